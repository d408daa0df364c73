//! Each check on either side of its limit; limits and their sources stand in the checks.

mod ground;
mod sizes;
