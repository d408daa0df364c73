//! What is on the screen, as a screen reader would be told.

use serde_json::Value;
use std::fmt;

/// Something on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Its role: button, link, textbox, heading…
    pub role: String,
    /// Its accessible name.
    pub name: String,
    /// Its accessible description, when it has one.
    pub description: String,
    /// The value of a field.
    pub value: String,
    /// Whether it cannot be used now.
    pub disabled: bool,
    /// Whether a toggle, tab or option is on.
    pub on: bool,
    /// The browser's own number for the element.
    pub(crate) element: i64,
}

/// The screen at one moment.
#[derive(Clone, Debug, Default)]
pub struct Look {
    /// Everything named or with a value, in reading order.
    pub nodes: Vec<Node>,
}

impl Look {
    pub(crate) fn read(tree: &Value) -> Self {
        let nodes = tree["nodes"].as_array().map(Vec::as_slice).unwrap_or_default();
        Self { nodes: nodes.iter().filter_map(node).collect() }
    }

    /// The first thing of this role with exactly this name; where there is none, with this name and, behind a
    /// comma, what it is for.
    #[must_use]
    pub fn find(&self, role: &str, name: &str) -> Option<&Node> {
        let mut all = self.nodes.iter().filter(|node| node.role == role);
        let more = |node: &&Node| node.name.strip_prefix(name).is_some_and(|rest| rest.starts_with(", "));
        all.clone().find(|node| node.name == name).or_else(|| all.find(more))
    }

    /// All things of this role whose name fits.
    pub fn all<'a>(
        &'a self,
        role: &'a str,
        fits: impl Fn(&str) -> bool + 'a,
    ) -> impl Iterator<Item = &'a Node> {
        self.nodes.iter().filter(move |node| node.role == role && fits(&node.name))
    }

    /// Whether some text on the screen contains these words.
    #[must_use]
    pub fn says(&self, words: &str) -> bool {
        self.nodes.iter().any(|node| node.name.contains(words) || node.value.contains(words))
    }
}

impl fmt::Display for Look {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for node in self.nodes.iter().filter(|node| node.role != "InlineTextBox") {
            let off = if node.disabled { " (disabled)" } else { "" };
            let on = if node.on { " (on)" } else { "" };
            let value = if node.value.is_empty() { String::new() } else { format!(" = {:?}", node.value) };
            writeln!(f, "  {} {:?}{value}{off}{on}", node.role, node.name)?;
        }
        Ok(())
    }
}

fn node(raw: &Value) -> Option<Node> {
    if raw["ignored"].as_bool().unwrap_or(false) {
        return None;
    }
    let text = |key: &str| raw[key]["value"].as_str().unwrap_or("").to_owned();
    let properties = raw["properties"].as_array().map(Vec::as_slice).unwrap_or_default();
    let is = |key: &str| {
        let property = properties.iter().find(|property| property["name"] == key);
        property.is_some_and(|found| found["value"]["value"] == true || found["value"]["value"] == "true")
    };
    let node = Node {
        role: text("role"),
        name: text("name"),
        description: text("description"),
        value: raw["value"]["value"].as_str().map_or_else(String::new, str::to_owned),
        disabled: is("disabled"),
        on: is("pressed") || is("checked") || is("selected"),
        element: raw["backendDOMNodeId"].as_i64()?,
    };
    (!node.name.is_empty() || !node.value.is_empty() || node.role != "generic").then_some(node)
}
