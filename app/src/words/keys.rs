//! The keys of a keyboard.

pub const KEYS: &str = "Keys";
pub const TITLE: &str = "Keys at a desk";
pub const HINT: &str = "They do nothing while you type. Turn them off if you speak to your device.";
pub const SWITCH: &str = "Keys on";

type Row = (&'static [&'static str], &'static str);

/// Keys and what they do, by area.
pub const GROUPS: [(&str, &[Row]); 4] = [
    (
        "Go to",
        &[
            (&["1"], "Plan"),
            (&["2"], "Book"),
            (&["3"], "Problems"),
            (&["4"], "Sheet"),
            (&["5"], "Questions"),
            (&["6"], "Before you leave"),
        ],
    ),
    (
        "Write down",
        &[
            (&["M"], "Measure"),
            (&["T"], "A thing"),
            (&["U"], "A utility mark"),
            (&["S"], "Sketch"),
            (&["Ctrl", "Z"], "Undo"),
            (&["Ctrl", "Shift", "Z"], "Redo"),
        ],
    ),
    (
        "Look closer",
        &[
            (&["N"], "Next point not checked yet"),
            (&["B"], "The one before"),
            (&["A"], "Ask about this point"),
            (&["↑", "↓"], "Along the book, or point to point on the plan"),
            (&["Enter"], "Open it"),
            (&["Esc"], "Back; what is entered stays"),
        ],
    ),
    ("The plan", &[(&["+"], "Nearer"), (&["-"], "Farther"), (&["0"], "All of it"), (&["?"], "This list")]),
];
