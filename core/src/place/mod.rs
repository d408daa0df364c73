//! Where on earth the plan lies: anchor, north, local frame to WGS 84.
