//! The drawn-to-scale base plan as SVG.
