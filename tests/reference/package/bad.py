"""Packages that should not be taken in, or not whole, made from a good one.

bad.py PACKAGE FOLDER: writes one file for each way to be bad and prints their names as a JSON array. What each must
bring about stands in tests/package/bad.rs. Names and fields follow PKWARE's APPNOTE 6.3.10, 4.3 and 4.4.
"""

import io
import json
import pathlib
import struct
import sys
import zipfile
import zlib

whole = pathlib.Path(sys.argv[1]).read_bytes()
folder = pathlib.Path(sys.argv[2])
good = zipfile.ZipFile(io.BytesIO(whole))
files = {name: good.read(name) for name in good.namelist()}
photo = min(name for name in files if name.startswith("photos/"))
small = min(name for name in files if name.startswith("thumbnails/"))
LINK, FILE = 0o120777, 0o100644
STORED, DEFLATED = 0, 8
MIB, GIB = 1 << 20, 1 << 30
made = []


def write(name, *parts):
    with open(folder / f"{name}.zip", "wb") as file:
        for part in parts:
            file.write(part)
    made.append(name)


def deflated(data, effort=6):
    packer = zlib.compressobj(effort, zlib.DEFLATED, -15)
    return packer.compress(data) + packer.flush()


def zeros(length):
    """Deflated zeros, quickly: a mebibyte packed once, and its packed bytes over and over."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    start = packer.compress(bytes(MIB)) + packer.flush(zlib.Z_FULL_FLUSH)
    again = packer.compress(bytes(MIB)) + packer.flush(zlib.Z_FULL_FLUSH)
    packed = start + again * (length // MIB - 1) + packer.flush()
    return packed


class File:
    """A file in a zip file; what is not said is as it should be."""

    def __init__(self, name, data=b"", *, packed=None, method=DEFLATED, crc=None, size=None, claims=None,
                 flags=0, mode=FILE, system=3, extra=b"", place=None):
        self.name = name if isinstance(name, bytes) else name.encode()
        self.packed = packed if packed is not None else deflated(data) if method == DEFLATED else data
        self.method, self.flags, self.mode, self.system, self.extra = method, flags, mode, system, extra
        self.crc = zlib.crc32(data) if crc is None else crc
        self.size = len(data) if size is None else size
        # What it says it takes in the zip file, and where it says it stands.
        self.claims = len(self.packed) if claims is None else claims
        self.place = place

    def local(self):
        fixed = struct.pack("<4s5H3I2H", b"PK\3\4", 20, self.flags, self.method, 0, 0x5CE4, self.crc,
                            min(self.claims, 0xFFFFFFFF), min(self.size, 0xFFFFFFFF), len(self.name), 0)
        return fixed + self.name + self.packed

    def central(self, place):
        place = place if self.place is None else self.place
        extra = self.extra
        long = [value for value in (self.size, self.claims, place) if value >= 0xFFFFFFFF]
        if long:
            extra += struct.pack(f"<2H{len(long)}Q", 1, 8 * len(long), *long)
        fixed = struct.pack("<4s2B5H3I5H2I", b"PK\1\2", 63, self.system, 20, self.flags, self.method, 0, 0x5CE4,
                            self.crc, min(self.claims, 0xFFFFFFFF), min(self.size, 0xFFFFFFFF), len(self.name),
                            len(extra), 0, 0, 0, self.mode << 16, min(place, 0xFFFFFFFF))
        return fixed + self.name + extra


def zipped(files, *, count=None, start=None, size=None, comment=b"", zip64=None):
    local, central, at = [], [], 0
    for file in files:
        central.append(file.central(at))
        local.append(file.local())
        at += len(local[-1])
    directory = b"".join(central)
    count = len(central) if count is None else count
    start, size = at if start is None else start, len(directory) if size is None else size
    end = b""
    if zip64 is not None or count > 0xFFFF:
        entries, long, first = zip64 or (count, len(directory), at)
        end = struct.pack("<4sQ2H2I4Q", b"PK\6\6", 44, 45, 45, 0, 0, entries, entries, long, first)
        end += struct.pack("<4sIQI", b"PK\6\7", 0, at + len(directory), 1)
    end += struct.pack("<4s4H2IH", b"PK\5\6", 0, 0, min(count, 0xFFFF), min(count, 0xFFFF), size, start,
                       len(comment)) + comment
    return b"".join(local) + directory + end


def with_changes(changes=None, more=(), **fields):
    """The good package with files in place of others, and more of them."""
    changes = changes or {}
    all = [changes.get(name, File(name, data)) for name, data in files.items()]
    return zipped([file for file in all if file is not None] + list(more), **fields)


def changed(name, **fields):
    return with_changes({name: File(name, files[name], **fields)})


def book(data, **fields):
    """A package of another book, without the sums of the old one."""
    file = data if isinstance(data, File) else File("book.jsonl", data, **fields)
    return with_changes({"book.jsonl": file, "checksums.sha256": None})


write("good", with_changes())
write("zip64", with_changes(zip64=()))
for tenths in range(10):
    write(f"cut at {tenths} tenths", whole[: len(whole) * tenths // 10])
for short in (1, 10, 22, 23, 100):
    write(f"{short} bytes short", whole[:-short])
write("the start missing", whole[100:])
write("the middle missing", whole[:20_000] + whole[24_000:])

# What was changed without its sum, and with the zip file's own sum but not the package's.
other = files["book.jsonl"].replace(b"\"author\":\"a\"", b"\"author\":\"b\"", 1)
assert other != files["book.jsonl"]
write("another book", with_changes({"book.jsonl": File("book.jsonl", other)}))
write("another statement of itself", with_changes({"about.json": File("about.json", b'{"swingtie_package":1}')}))
write("another photo", with_changes({photo: File(photo, files[photo][:-1] + b"\0")}))
write("another small picture", with_changes({small: File(small, files[small][:-1] + b"\0")}))
for name, path in (("book", "book.jsonl"), ("photo", photo), ("small picture", small)):
    write(f"the {name} with another crc", changed(path, crc=1))
spoilt = bytearray(deflated(files["book.jsonl"]))
spoilt[len(spoilt) // 2] ^= 0xFF
write("the book spoilt", changed("book.jsonl", packed=bytes(spoilt)))
write("the book no deflate", changed("book.jsonl", packed=b"\xff" * 300))
write("the book shorter than said", changed("book.jsonl", size=len(files["book.jsonl"]) + 1))
write("the book longer than said", changed("book.jsonl", size=len(files["book.jsonl"]) - 1))
write("the book cut", changed("book.jsonl", packed=deflated(files["book.jsonl"])[:-200]))
write("the photo cut", changed(photo, packed=deflated(files[photo])[:-200]))
write("the photo shorter than said", changed(photo, size=len(files[photo]) + 1))
write("the photo no deflate", changed(photo, packed=b"\xff" * 300))
write("the book elsewhere", changed("book.jsonl", place=1))
write("the book beyond the end", changed("book.jsonl", place=len(whole) * 2))
write("more taken than said", changed(photo, method=STORED, claims=len(files[photo]) - 1))

# Names that lead elsewhere, links.
for name, path in (
    ("up", "../book.jsonl"), ("up from within", "photos/../../x.jpg"), ("up at the end", "photos/.."),
    ("from the root", "/etc/x"), ("a backslash", "photos\\..\\x.jpg"), ("a drive", "C:/x.jpg"),
    ("another machine", "//host/x.jpg"), ("a nul", "photos/x.jpg\0.txt"), ("a stream", "x.jpg:hidden"),
):
    write(f"name {name}", with_changes(more=[File(path, b"x")]))
write("a folder that leads up", with_changes(more=[File("../", mode=0o40755)]))
write("a link", with_changes({photo: File(photo, b"/etc/passwd", mode=LINK)}))
write("a link from a mac", with_changes({photo: File(photo, b"/etc/passwd", mode=LINK, system=19)}))
write("a name of other letters", with_changes(more=[File(b"photos/\xff\xfe.jpg", b"x")]))
write("a name of half a letter", with_changes(more=[File("é.jpg".encode()[:1], b"x", flags=0x800)]))

# Which counts?
write("two books", with_changes(more=[File("book.jsonl", other)]))
write("two books by case", with_changes(more=[File("Book.JSONL", other)]))
write("two of a photo", with_changes(more=[File(photo, b"x")]))

# Newer, and of other programs.
for form in (2, 10**11, 10**30):
    text = b'{"swingtie_package":%d,"site":{"of":"another form"}}' % form
    write(f"form {form}", with_changes({"about.json": File("about.json", text), "checksums.sha256": None}))
write("no form", with_changes({"about.json": File("about.json", b"[]"), "checksums.sha256": None}))
office = ("[Content_Types].xml", "_rels/.rels", "word/document.xml", "word/media/image1.jpeg")
write("a letter", zipped([File(name, b"<x/>") for name in office]))
write("an empty zip", zipped([]))
write("a folder only", zipped([File("site/", mode=0o40755)]))
write("a folder named as the book", zipped([File("book.jsonl/", mode=0o40755)]))
write("no zip", b"\xff\xd8\xff\xe0" + bytes(range(256)) * 1000)
write("not a byte")
with open(folder / "a long film.zip", "wb") as film:
    film.truncate(3 * GIB)
made.append("a long film")

# The book.
write("the book no text", book(b"\xff\xfe{\0}\0\n\0"))
write("the book half a letter", book(files["book.jsonl"] + b"\xc3"))
write("the book torn", book(files["book.jsonl"][:-20]))
write("the book without a line", book(b"\n \r\n"))
write("the book of other lines", book(b"id,name\n1,2\n"))
write("the book nested", book(b'{"id":"e","clock":1,"at_ms":0,"author":"a","say":{"x":' + b"[" * 10**6 + b"\n"))
write("the book with a clash", book(files["book.jsonl"] + other))

# Packed in other ways.
write("a password", changed("book.jsonl", flags=1))
write("strong encryption", changed(photo, flags=0x41))
write("encrypted names", changed("book.jsonl", flags=0x2001))
for method, name in ((zipfile.ZIP_LZMA, "lzma"), (zipfile.ZIP_BZIP2, "bzip2")):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as new:
        for path, data in files.items():
            new.writestr(path, data)
    write(name, out.getvalue())

# Sizes and places beyond all measure.
write("a size beyond measure", changed("book.jsonl", size=1 << 63))
write("a photo beyond measure", changed(photo, size=(1 << 64) - 1))
write("takes beyond measure", changed("book.jsonl", claims=(1 << 64) - 1))
write("a place beyond measure", changed("book.jsonl", place=(1 << 64) - 2))
write("a directory beyond measure", with_changes(zip64=(3, (1 << 64) - 1, (1 << 64) - 2)))
write("a directory of no length", with_changes(zip64=(1 << 63, 0, 0)))
write("files beyond measure", with_changes(zip64=((1 << 64) - 1, 100, 0)))
write("more files than said", with_changes(count=1))
write("fewer files than said", with_changes(count=1000))

# Bombs.
ten = zeros(10 * GIB)
one = zeros(GIB)
write("10 GiB claimed", with_changes({photo: File(photo, packed=ten, size=10 * GIB)}))
write("10 GiB unclaimed", with_changes({photo: File(photo, packed=ten, size=1000)}))
write("a book of 1 GiB", book(File("book.jsonl", packed=one, size=GIB)))
write("a book of 1 GiB unclaimed", book(File("book.jsonl", packed=one, size=1000)))
sums = File("checksums.sha256", packed=one, size=GIB)
write("sums of 1 GiB", with_changes({"checksums.sha256": sums}))
sixty = zeros(60 * MIB)
sum_of_sixty = zlib.crc32(bytes(60 * MIB))
many = [File("thumbnails/%064x.jpg" % n, packed=sixty, size=60 * MIB, crc=sum_of_sixty) for n in range(170)]
write("10 GiB in 170 pictures", with_changes(more=many))
kernel = File("thumbnails/%064x.jpg" % 0, packed=sixty, size=60 * MIB, crc=sum_of_sixty)
over = [File("thumbnails/%064x.jpg" % n, packed=b"", size=60 * MIB, claims=len(sixty), crc=sum_of_sixty, place=0)
        for n in range(1, 1000)]
write("files over each other", zipped([kernel] + over + [File(name, data) for name, data in files.items()]))
names = [File("photos/%d.jpg" % n, method=STORED, place=0) for n in range(100_000)]
hundred = zipped(names)
write("100000 files", hundred)
write("100000 files, 5 said", zipped(names, count=5))
write("100000 folders", zipped([File("%d/" % n, method=STORED, place=0) for n in range(100_000)], count=5))
long = [File("%d/" % n + "x" * 65_000, method=STORED, place=0) for n in range(400)]
write("names of 26 MB", zipped(long))
write("20000 files", with_changes(more=[File(f"more/{'x' * 90}{n}", method=STORED, place=0)
                                        for n in range(20_000 - len(files))]))
most = 64 * MIB
write("64 MiB of no lines", book(b"\n" * most))
write("64 MiB of wrong lines", book(b"x\n" * (most // 2)))
write("64 MiB in one line", book(b"[" * most))
line = b'{"id":"%d","clock":1,"at_ms":0,"author":"a","say":{"x":1}}\n'
write("64 MiB of lines", book(b"".join(line % n for n in range(2_000_000))[:most]))
write("100000 wrong lines", book(b"x\n" * 100_000))
write("100000 lines", book(b"".join(line % n for n in range(100_000))))
print(json.dumps(made))
