"""A site package unpacked and packed anew, as people's computers do it: all in a folder, everything deflated, folders
as entries of their own, and beside it a folder of what one system keeps about files.

repack.py PACKAGE NEW
"""

import json
import sys
import zipfile

old = zipfile.ZipFile(sys.argv[1])
new = zipfile.ZipFile(sys.argv[2], "w", zipfile.ZIP_DEFLATED)
inside = "Quince Lane (1)/"
new.mkdir(inside)
for folder in ("photos/", "thumbnails/"):
    new.mkdir(inside + folder)
junk = ["._book.jsonl", "photos/._x.jpg", "book.jsonl/._y"]
for name in sorted(old.namelist(), reverse=True):
    new.writestr(inside + name, old.read(name))
for name in junk:
    new.writestr("__MACOSX/" + inside + name, b"\0\5\x16\7" + bytes(200))
new.close()
new = zipfile.ZipFile(sys.argv[2])
assert new.testzip() is None
deflated = all(info.compress_type == zipfile.ZIP_DEFLATED for info in new.infolist() if not info.is_dir())
print(json.dumps({"junk": sum("__MACOSX" in name for name in new.namelist()), "deflated": deflated}))
