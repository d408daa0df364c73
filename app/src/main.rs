//! The phone's shell around `swingtie-core`.

fn main() {
    leptos::mount::mount_to_body(|| "Swingtie");
}
