"""Cuts DejaVu Sans down to what a sheet may need.

python make.py FOLDER, where FOLDER holds DejaVuSans.ttf and DejaVuSans-Bold.ttf; needs fonttools.
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

here = Path(__file__).parent
characters = subset.parse_unicodes((here / "characters.txt").read_text().replace("\n", ""))
options = subset.Options(
    hinting=False, layout_features=[], glyph_names=False, notdef_outline=True, recalc_timestamp=False
)
options.drop_tables += ["GSUB", "GPOS", "GDEF", "MATH", "kern", "FFTM", "gasp", "DSIG"]
# Copyright, names, version, licence and where it stands.
options.name_IDs = [0, 1, 2, 4, 5, 6, 13, 14]
options.name_languages = [0x409]

for name in ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"]:
    font = TTFont(Path(sys.argv[1]) / name, recalcTimestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=characters)
    cutter.subset(font)
    # Who cuts it further reads this table from version 2 on, which tells heights of letters besides.
    height = lambda letter: font["glyf"][font.getBestCmap()[ord(letter)]].yMax
    table = font["OS/2"]
    table.version = 4
    table.sxHeight, table.sCapHeight = height("x"), height("H")
    table.usDefaultChar, table.usBreakChar, table.usMaxContext = 0, 32, 0
    # As the OpenType specification asks; deprecated, and read by nobody.
    font["head"].fontDirectionHint = 2
    font.save(here / name)
