//! Simple line drawings for the guided walk, our own: the house as a plan seen from above, people and tapes as
//! one would draw them on the back of an envelope. They say what the words beside them say.

use leptos::prelude::*;

/// The frame all of them share: ink is the page's own, `a` the accent, `d` dashed.
macro_rules! picture {
    ($($drawn:tt)+) => {
        markup! {
            <svg viewBox="0 0 320 170" fill="none" stroke="currentColor" stroke-width="3" stroke-linecap="round"
                stroke-linejoin="round" aria-hidden="true" focusable="false">$($drawn)+</svg>
        }
    };
}

/// The house's corners, tapped.
pub fn sketch() -> AnyView {
    picture! {
        <path d="M70 40h120v45h50v55H70z" stroke-dasharray="2 8" />
        <g class="a" fill="currentColor">
        <circle cx="70" cy="40" r="6" />
        <circle cx="190" cy="40" r="6" />
        <circle cx="190" cy="85" r="6" />
        <circle cx="240" cy="85" r="6" />
        <circle cx="70" cy="140" r="6" /></g>
        <circle class="a" cx="240" cy="140" r="13" />
        <path d="M246 146l20 16M252 134c8 2 14 6 20 12l12 16" />
    }
}

/// The tape's hook over a corner, the tape tight along the wall.
pub fn hook() -> AnyView {
    picture! {
        <path d="M50 20v70h220V20" stroke-width="6" />
        <path class="a" d="M44 84v18h214" />
        <path class="a" d="M80 102v-7M110 102v-7M140 102v-7M170 102v-7M200 102v-7M230 102v-7" />
        <path d="M258 92h34v26h-34z" />
        <text x="40" y="128" class="w">"0 at the corner"</text>
        <text x="214" y="142" class="w">"read here"</text>
    }
}

/// The corners joined to the house.
pub fn outline() -> AnyView {
    picture! {
        <path class="a" d="M70 35h120v45h50v55H70z" stroke-width="5" />
        <path d="M80 55l20-20M80 85l50-50M80 115l80-80M92 135l98-98M122 135l55-55M152 135l55-55M182 135l55-55M212 135l28-28" stroke-width="1" />
        <text x="46" y="34" class="w">"H1"</text>
        <text x="196" y="34" class="w">"H2"</text>
        <text x="244" y="78" class="w">"H4"</text>
        <text x="196" y="76" class="w">"H3"</text>
        <text x="244" y="152" class="w">"H5"</text>
        <text x="46" y="152" class="w">"H6"</text>
    }
}

/// One tape along a wall, everything read from its zero.
pub fn running() -> AnyView {
    picture! {
        <path d="M30 60h50M110 60h70M220 60h70" stroke-width="6" />
        <path d="M80 52v16M110 52v16M80 57h30M80 63h30M180 52v16M220 52v16" />
        <path d="M180 60a40 40 0 0 0 40-40" stroke-width="1.5" />
        <path class="a" d="M30 96h260" />
        <path class="a" d="M30 88v16M80 90v12M110 90v12M180 90v12M220 90v12M290 88v16" />
        <text x="24" y="122" class="w">"0"</text>
        <text x="66" y="122" class="w">"5'"</text>
        <text x="104" y="122" class="w">"8'"</text>
        <text x="168" y="122" class="w">"15'"</text>
        <text x="212" y="122" class="w">"19'"</text>
        <text x="276" y="122" class="w">"26'"</text>
        <text x="30" y="150" class="w">"never move the hook: all from 0"</text>
    }
}

/// Two tapes that meet at a tree.
pub fn ties() -> AnyView {
    picture! {
        <path d="M30 25h130v40H30z" stroke-width="5" />
        <path class="a" d="M30 65L205 130M160 65L205 130" />
        <circle cx="205" cy="130" r="7" fill="currentColor" />
        <circle cx="205" cy="130" r="30" stroke-dasharray="5 7" />
        <text x="12" y="88" class="w">"H1"</text>
        <text x="166" y="60" class="w">"H2"</text>
        <text x="244" y="136" class="w">"T1"</text>
        <text x="84" y="122" class="w">"1"</text>
        <text x="190" y="92" class="w">"2"</text>
    }
}

/// A third tape as a check.
pub fn third() -> AnyView {
    picture! {
        <path d="M30 25h130v40H30z" stroke-width="5" />
        <path d="M30 65L205 130M160 65L205 130" />
        <path class="a" d="M160 25L205 130" stroke-width="4" />
        <circle cx="205" cy="130" r="7" fill="currentColor" />
        <circle cx="205" cy="130" r="30" stroke-dasharray="5 7" />
        <path class="a" d="M252 60l12 14 26-32" stroke-width="5" />
        <text x="84" y="122" class="w">"1"</text>
        <text x="156" y="98" class="w">"2"</text>
        <text x="194" y="66" class="w">"3"</text>
    }
}

/// What stands in a yard, and how wide a tree is.
pub fn things() -> AnyView {
    picture! {
        <path d="M20 140h280" stroke-width="2" />
        <path d="M76 140V92" />
        <path d="M76 92c-34 6-48-22-28-38 0-26 40-34 52-14 28 0 30 38 8 46-8 8-20 8-32 6z" />
        <path class="a" d="M38 24h82M44 18l-8 6 8 6M114 18l8 6-8 6" />
        <path d="M170 140V90M190 140V90M210 140V90M230 140V90M164 102h72M164 126h72" />
        <path d="M250 140V84M292 140V84M250 92l42 40M250 132h42M250 92h42" />
        <path class="a" d="M254 74h34M258 69l-6 5 6 5M284 69l6 5-6 5" />
    }
}

/// A post out of plumb, and water at a wall.
pub fn wrong() -> AnyView {
    picture! {
        <path d="M20 140h280" stroke-width="2" />
        <path d="M70 140L88 40l14 3-18 97z" />
        <path d="M95 40v96" stroke-dasharray="3 7" />
        <path class="a" d="M70 154h25M74 150l-6 4 6 4M91 150l6 4-6 4" />
        <path d="M180 30v110h12V30M192 40h14v70" />
        <path class="a" d="M206 112c0 10 10 16 10 22M204 118c-2 8 2 14 0 20" />
        <path class="a" d="M196 144c14-6 26 4 40 0s26-4 44 0" />
    }
}

/// Paint and a flag.
pub fn marks() -> AnyView {
    picture! {
        <path d="M20 140c60-20 120-30 280-40" stroke-width="2" />
        <path class="a" d="M40 128l36-10M100 112l36-8M160 100l36-5M220 94l36-3" stroke-width="6" />
        <path d="M206 92V34l40 12-40 14" />
        <text x="212" y="52" class="w">"W"</text>
        <text x="44" y="56" class="w">"No mark does not"</text>
        <text x="44" y="76" class="w">"mean: no line"</text>
    }
}

/// From further back, the whole side.
pub fn photo() -> AnyView {
    picture! {
        <path d="M80 20h160v50H80z" stroke-width="5" />
        <path class="a" d="M160 140L84 74M160 140l76-66" stroke-dasharray="4 7" />
        <path d="M142 132h36v24h-36z" />
        <circle cx="160" cy="144" r="7" />
    }
}

/// Two people talking.
pub fn talk() -> AnyView {
    picture! {
        <circle cx="90" cy="90" r="16" />
        <path d="M62 150c0-28 12-40 28-40s28 12 28 40" />
        <circle cx="230" cy="90" r="16" />
        <path d="M202 150c0-28 12-40 28-40s28 12 28 40" />
        <path class="a" d="M112 20h108v42h-84l-18 14 4-14h-10z" />
        <path class="a" d="M130 34h72M130 48h44" />
    }
}

/// A compass held along a wall.
pub fn north() -> AnyView {
    picture! {
        <path d="M40 110h170" stroke-width="6" />
        <path d="M40 110V60M210 110V60" stroke-width="6" />
        <circle cx="130" cy="140" r="22" />
        <path class="a" d="M138 124l-4 18-12 14 4-18z" fill="currentColor" />
        <path class="a" d="M252 130V46M240 62l12-18 12 18" />
        <text x="244" y="36" class="w">"N"</text>
    }
}

/// A list with ticks.
pub fn list() -> AnyView {
    picture! {
        <path d="M90 15h140v140H90z" />
        <path class="a" d="M106 42l8 9 16-20M106 82l8 9 16-20" />
        <path d="M144 42h66M144 82h66M144 122h66M106 112h20v20h-20z" />
    }
}
