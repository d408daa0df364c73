//! Texts a browser reads, without what only people read.

/// A style sheet without comments, indentation and empty lines. Nothing within a line changes.
pub(crate) fn style(style: &str) -> String {
    let mut plain = String::new();
    let mut rest = style;
    while let Some((before, after)) = rest.split_once("/*") {
        plain.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    plain.lines().map(str::trim).filter(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect()
}

/// A script without indentation, and without comments that stand on lines of their own.
pub(crate) fn script(script: &str) -> String {
    let mut plain = String::new();
    let mut within = false;
    for line in script.lines().map(str::trim) {
        within |= line.starts_with("/*");
        if !within && !line.is_empty() && !line.starts_with("//") {
            plain.push_str(line);
            plain.push('\n');
        }
        within &= !line.ends_with("*/");
    }
    plain
}

#[cfg(test)]
mod tests {
    #[test]
    fn styles_and_scripts_lose_what_no_browser_reads() {
        let style = "/* a */\n.a {\n    content: \"  x\";\n}\n\n.b { color: red }\n";
        assert_eq!(super::style(style), ".a {\ncontent: \"  x\";\n}\n.b { color: red }\n");
        let script =
            "/**\n * says\n */\nfunction f() {\n    // why\n    return `a // b`;\n}\n/* one line */\nf();\n";
        assert_eq!(super::script(script), "function f() {\nreturn `a // b`;\n}\nf();\n");
    }
}
