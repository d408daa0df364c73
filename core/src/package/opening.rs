//! Packages in: what lies in a zip file, read where it stands, and refused when it is not what it seems.

use super::names::{hash_of, media_type};
use super::windows::Windows;
use super::{
    ABOUT, ABOUT_BEFORE, About, BOOK, CHECKSUMS, FORMAT, LARGEST_BOOK, LARGEST_DIRECTORY, LARGEST_PICTURE,
    Left, MOST_FILES, MOST_LINES, PHOTOS, Pictures, SEARCHED, SWELLS, THUMBNAILS, Trouble, Unpacking,
};
use crate::book::Book;
use crate::record::{AuthorId, PhotoId};
use rawzip::{
    CompressionMethod, ErrorKind, MAX_CENTRAL_DIRECTORY_RECORD_SIZE, ZipArchive, ZipArchiveEntryWayfinder,
    ZipFileHeaderRecord,
};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// What comes next.
#[derive(Clone, Debug, PartialEq)]
pub enum Step<T> {
    /// These bytes of the file are to be read and given.
    Read(Range<u64>),
    /// It is done.
    Done(T),
}

/// A file in the zip file.
#[derive(Clone, Debug)]
pub struct Member {
    /// Its name, without the folder that all lie in.
    pub name: String,
    /// Its size in bytes, unpacked, as the zip file says.
    pub size: u64,
    pub(super) crc: u32,
    pub(super) is_stored: bool,
    packed: u64,
    place: ZipArchiveEntryWayfinder,
}

impl Member {
    /// Whether its bytes stand in the zip file as they are.
    #[must_use]
    pub fn stands_as_it_is(&self) -> bool {
        self.is_stored
    }
}

/// A picture in the package.
#[derive(Clone, Debug, Default)]
pub struct Picture {
    /// At full size.
    pub full: Option<Member>,
    /// Small.
    pub small: Option<Member>,
}

impl Picture {
    /// Its media type, by the ending of its name.
    #[must_use]
    pub fn media_type(&self) -> &'static str {
        self.full.as_ref().or(self.small.as_ref()).map_or("image/jpeg", |member| media_type(&member.name))
    }
}

/// A zip file being opened. Ask for [`step`](Self::step), give what it wants, ask again.
#[derive(Debug)]
pub struct Opening {
    windows: Windows,
}

impl Opening {
    /// Starts with a file of so many bytes.
    #[must_use]
    pub fn of(length: u64) -> Self {
        Self { windows: Windows::new(length) }
    }

    /// Takes in what was read of the file at a place.
    pub fn give(&mut self, at: u64, bytes: Vec<u8>) {
        self.windows.give(at, bytes);
    }

    /// The package, or what to read next for it.
    ///
    /// # Errors
    /// When the file is no package, or one that should not be opened.
    pub fn step(&mut self) -> Result<Step<Package>, Trouble> {
        let length = self.windows.length();
        if self.windows.held() > LARGEST_DIRECTORY {
            return Err(Trouble::Damaged(say!("its list of files is longer than any site's")));
        }
        let windows = std::mem::replace(&mut self.windows, Windows::new(length));
        let mut room = vec![0; MAX_CENTRAL_DIRECTORY_RECORD_SIZE];
        match ZipArchive::with_max_search_space(SEARCHED).locate_in_reader(windows, &mut room, length) {
            Err((windows, why)) => {
                let wanted = windows.wanted();
                self.windows = windows;
                wanted.map(Step::Read).ok_or_else(|| match why.kind() {
                    // The record that ends it begins, and no more.
                    ErrorKind::Eof => Trouble::NoDirectory,
                    _ => trouble(&why),
                })
            }
            Ok(archive) => {
                let members = members(&archive, &mut room);
                // Where something was wanted that is not here, what was found without it counts for nothing.
                if let Some(wanted) = archive.get_ref().wanted() {
                    self.windows = archive.into_inner();
                    return Ok(Step::Read(wanted));
                }
                Package::new(archive, members?).map(Step::Done)
            }
        }
    }
}

fn trouble(why: &rawzip::Error) -> Trouble {
    match why.kind() {
        ErrorKind::MissingEndOfCentralDirectory => Trouble::NoDirectory,
        ErrorKind::InvalidSignature { .. } => Trouble::Damaged(say!("something is not where it says")),
        ErrorKind::Eof | ErrorKind::IO(_) => Trouble::Damaged(say!("a part of it is missing")),
        _ => Trouble::Damaged(say!("its parts do not fit together")),
    }
}

fn members(archive: &ZipArchive<Windows>, room: &mut [u8]) -> Result<Vec<Member>, Trouble> {
    if archive.entries_hint() > MOST_FILES as u64 {
        return Err(Trouble::TooMany);
    }
    let (mut members, mut packed, mut seen) = (Vec::new(), 0_u64, 0);
    let mut entries = archive.entries(room);
    while let Some(entry) = entries.next_entry().map_err(|why| trouble(&why))? {
        seen += 1;
        if seen > MOST_FILES {
            return Err(Trouble::TooMany);
        }
        packed = packed.saturating_add(entry.compressed_size_hint());
        members.extend(member(&entry)?);
    }
    // Files that lie over each other unpack to more than any disk holds.
    if packed > archive.get_ref().length() {
        return Err(Trouble::Damaged(say!("files in it lie over each other")));
    }
    if seen as u64 != archive.entries_hint() {
        return Err(Trouble::Damaged(say!("it holds more files than it says, or fewer")));
    }
    Ok(members)
}

/// A file; none for a folder.
fn member(entry: &ZipFileHeaderRecord<'_>) -> Result<Option<Member>, Trouble> {
    let path = entry.file_path();
    let name = std::str::from_utf8(path.as_bytes()).map_err(|_| Trouble::NoName)?;
    let leads_out =
        name.starts_with('/') || name.contains(['\\', ':', '\0']) || name.split('/').any(|part| part == "..");
    if leads_out {
        return Err(Trouble::LeadsOut(name.escape_debug().to_string()));
    }
    if entry.mode().is_symlink() {
        return Err(Trouble::Link(name.to_owned()));
    }
    if entry.is_dir() {
        return Ok(None);
    }
    let method = entry.compression_method();
    let is_stored = method == CompressionMethod::STORE;
    if entry.flags().is_encrypted() || !(is_stored || method == CompressionMethod::DEFLATE) {
        return Err(Trouble::Method(name.to_owned()));
    }
    let (size, packed) = (entry.uncompressed_size_hint(), entry.compressed_size_hint());
    if is_stored && size != packed {
        return Err(Trouble::Size(name.to_owned()));
    }
    let (name, crc, place) = (name.to_owned(), entry.crc32(), entry.wayfinder());
    Ok(Some(Member { name, size, crc, is_stored, packed, place }))
}

/// A zip file that holds a book, opened. Its files are found one by one, as an [`Opening`] is opened.
#[derive(Debug)]
pub struct Package {
    archive: ZipArchive<Windows>,
    book: Member,
    about: Option<Member>,
    sums: Option<Member>,
    pictures: BTreeMap<PhotoId, Picture>,
}

/// A text of the package, unpacked.
#[derive(Clone, Debug)]
pub struct Text {
    /// Its name.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Their SHA-256.
    pub sum: String,
}

/// What a package says.
#[derive(Clone, Debug)]
pub struct Contents {
    /// Of itself.
    pub about: About,
    /// Of the site.
    pub book: Book,
    sums: BTreeMap<String, String>,
}

impl Package {
    fn new(archive: ZipArchive<Windows>, mut members: Vec<Member>) -> Result<Self, Trouble> {
        let mut names = BTreeSet::new();
        if let Some(twice) = members.iter().find(|member| !names.insert(member.name.to_lowercase())) {
            return Err(Trouble::Twice(twice.name.clone()));
        }
        // Somebody may have unpacked it and packed the folder again.
        let inside = |name: &str| {
            name.strip_suffix(BOOK).is_some_and(|folder| folder.is_empty() || folder.ends_with('/'))
        };
        let books = members.iter().filter(|member| inside(&member.name));
        let book = books.min_by_key(|member| member.name.len()).ok_or(Trouble::NoBook)?;
        let folder = book.name.strip_suffix(BOOK).unwrap_or_default().to_owned();
        members.retain_mut(|member| match member.name.strip_prefix(&folder) {
            Some(name) => {
                member.name = name.to_owned();
                true
            }
            None => false,
        });
        let mut take = |name: &str| {
            let at = members.iter().position(|member| member.name == name)?;
            Some(members.swap_remove(at))
        };
        let (book, about, sums) =
            (take(BOOK).ok_or(Trouble::NoBook)?, take(ABOUT).or_else(|| take(ABOUT_BEFORE)), take(CHECKSUMS));
        let mut pictures: BTreeMap<PhotoId, Picture> = BTreeMap::new();
        for member in members {
            let Some(id) = hash_of(&member.name) else { continue };
            match member.name.split('/').next() {
                Some(PHOTOS) => pictures.entry(id).or_default().full = Some(member),
                Some(THUMBNAILS) => pictures.entry(id).or_default().small = Some(member),
                _ => {}
            }
        }
        let whole = pictures.values().flat_map(|picture| [&picture.full, &picture.small]).flatten();
        let whole = whole.fold(0_u64, |sum, member| sum.saturating_add(member.size));
        if whole > archive.get_ref().length().saturating_mul(SWELLS).saturating_add(LARGEST_PICTURE) {
            return Err(Trouble::Swells);
        }
        Ok(Self { archive, book, about, sums, pictures })
    }

    /// The texts to unpack first, for [`contents`](Self::contents).
    ///
    /// # Errors
    /// When one is larger than any survey's.
    pub fn texts(&self) -> Result<Vec<Member>, Trouble> {
        let texts: Vec<Member> =
            [&self.sums, &self.about].into_iter().flatten().chain([&self.book]).cloned().collect();
        match texts.iter().find(|text| text.size > LARGEST_BOOK) {
            Some(large) => Err(Trouble::TooLarge { name: large.name.clone(), most: LARGEST_BOOK }),
            None => Ok(texts),
        }
    }

    /// What the texts say.
    ///
    /// # Errors
    /// When they are not as they were written, not of this version, or cannot be read.
    pub fn contents(&self, texts: &[Text]) -> Result<Contents, Trouble> {
        let text = |name: &str| {
            let text = texts.iter().find(|text| text.name == name);
            text.map(|text| std::str::from_utf8(&text.bytes).map_err(|_| Trouble::NoText(name.to_owned())))
                .transpose()
        };
        let mut sums = BTreeMap::new();
        for line in text(CHECKSUMS)?.unwrap_or_default().lines() {
            if let Some((sum, name)) = line.split_once("  ") {
                sums.insert(name.to_owned(), sum.to_owned());
            }
        }
        let mut contents = Contents { sums, ..Contents::of_book(Book::new()) };
        for text in texts.iter().filter(|text| text.name != CHECKSUMS) {
            contents.check(&text.name, &text.sum)?;
        }
        if let Some(about) = text(ABOUT).transpose().or_else(|| text(ABOUT_BEFORE).transpose()).transpose()? {
            // What a newer form says may be written in another way altogether; its number is looked for first.
            let value: serde_json::Value =
                serde_json::from_str(about).map_err(|why| Trouble::About(why.to_string()))?;
            let form = value.get("swingtie_package").and_then(serde_json::Value::as_f64).unwrap_or_default();
            if form > f64::from(FORMAT) {
                return Err(Trouble::Newer(form as u32));
            }
            contents.about = serde_json::from_value(value).map_err(|why| Trouble::About(why.to_string()))?;
        }
        let lines = text(BOOK)?.unwrap_or_default();
        if lines.lines().nth(MOST_LINES).is_some() {
            return Err(Trouble::TooLong);
        }
        let book = Book::from_whole_lines(lines).map_err(|first| Trouble::Lines(first.to_string()))?;
        if book.is_empty() {
            return Err(Trouble::Empty);
        }
        contents.book = book;
        Ok(contents)
    }

    /// The pictures in it, by their photos.
    ///
    /// # Errors
    /// When one is larger than a picture may be.
    pub fn pictures(&self) -> Result<&BTreeMap<PhotoId, Picture>, Trouble> {
        let mut all = self.pictures.values().flat_map(|picture| [&picture.full, &picture.small]).flatten();
        match all.find(|member| member.size > LARGEST_PICTURE) {
            Some(large) => Err(Trouble::TooLarge { name: large.name.clone(), most: LARGEST_PICTURE }),
            None => Ok(&self.pictures),
        }
    }

    /// Where in the file a member's packed bytes stand, or what to read and [`give`](Self::give) to know.
    ///
    /// # Errors
    /// When it is not where the zip file says.
    pub fn find(&mut self, member: &Member) -> Result<Step<Range<u64>>, Trouble> {
        match self.archive.get_entry(member.place) {
            Ok(entry) => {
                let (from, to) = entry.compressed_data_range();
                let length = self.archive.get_ref().length();
                self.archive.get_mut().clear();
                if to > length || to - from != member.packed {
                    return Err(Trouble::Size(member.name.clone()));
                }
                Ok(Step::Done(from..to))
            }
            Err(why) => self.archive.get_ref().wanted().map(Step::Read).ok_or_else(|| trouble(&why)),
        }
    }

    /// Takes in what was read of the file at a place.
    pub fn give(&mut self, at: u64, bytes: Vec<u8>) {
        self.archive.get_mut().give(at, bytes);
    }
}

/// A package that says nothing of itself.
fn of_nobody() -> About {
    About {
        swingtie_package: FORMAT,
        site: String::new(),
        made_by: AuthorId(String::new()),
        made_at_ms: 0,
        pictures: Pictures::All,
        left_out: Left::default(),
    }
}

impl Contents {
    /// Of a book that came by itself.
    #[must_use]
    pub fn of_book(book: Book) -> Self {
        Self { about: of_nobody(), book, sums: BTreeMap::new() }
    }

    /// Whether a file has the sum it was written with: a photo that of its name, others what the list of sums says.
    ///
    /// # Errors
    /// When it has another.
    pub fn check(&self, name: &str, sum: &str) -> Result<(), Trouble> {
        let hash = name.starts_with(PHOTOS).then(|| hash_of(name)).flatten();
        let written = hash.map(|id| id.0).or_else(|| self.sums.get(name).cloned());
        match written {
            Some(written) if written != sum => Err(Trouble::Sum(name.to_owned())),
            _ => Ok(()),
        }
    }

    /// What became of a picture that was unpacked: nothing is said where it is sound, and why where it alone is damaged,
    /// cut or changed on its way. The book and the other pictures can be taken in without it.
    ///
    /// # Errors
    /// When the whole package should be refused: it holds more than it says.
    pub fn spoilt(&self, name: &str, unpacked: Result<String, Trouble>) -> Result<Option<Trouble>, Trouble> {
        match unpacked.and_then(|sum| self.check(name, &sum)) {
            Ok(()) => Ok(None),
            Err(why @ (Trouble::Damaged(_) | Trouble::Cut(_) | Trouble::Sum(_))) => Ok(Some(why)),
            Err(why) => Err(why),
        }
    }
}

/// Where a whole file can be read at once, as at a desk: what stands at a place of it.
pub type ReadAt<'a> = &'a mut dyn FnMut(Range<u64>) -> std::io::Result<Vec<u8>>;

/// Read so much of a file at a time.
const PIECE: u64 = 1024 * 1024;

/// What stands at a place: all of it, since who asks again for what is not there would ask for ever.
fn bytes_at(read: ReadAt<'_>, place: Range<u64>) -> Result<Vec<u8>, Trouble> {
    let long = place.end - place.start;
    match read(place) {
        Ok(bytes) if bytes.len() as u64 == long => Ok(bytes),
        Ok(_) => Err(Trouble::Damaged(say!("it is shorter than it was"))),
        Err(error) => Err(Trouble::Damaged(error.to_string())),
    }
}

impl Package {
    /// Opens a file of so many bytes and reads what it says.
    ///
    /// # Errors
    /// When it is no package, or one that should not be opened.
    pub fn read(length: u64, read: ReadAt<'_>) -> Result<(Self, Contents), Trouble> {
        let mut opening = Opening::of(length);
        let mut package = loop {
            match opening.step()? {
                Step::Done(package) => break package,
                Step::Read(place) => opening.give(place.start, bytes_at(read, place)?),
            }
        };
        let mut texts = Vec::new();
        for member in package.texts()? {
            let mut bytes = Vec::new();
            let sum = package.unpack(&member, read, &mut |piece| bytes.extend_from_slice(piece))?;
            texts.push(Text { name: member.name, bytes, sum });
        }
        let contents = package.contents(&texts)?;
        Ok((package, contents))
    }

    /// Unpacks one file; gives its SHA-256.
    ///
    /// # Errors
    /// When it is damaged.
    pub fn unpack(
        &mut self,
        member: &Member,
        read: ReadAt<'_>,
        give: &mut dyn FnMut(&[u8]),
    ) -> Result<String, Trouble> {
        let place = loop {
            match self.find(member)? {
                Step::Done(place) => break place,
                Step::Read(place) => self.give(place.start, bytes_at(read, place)?),
            }
        };
        let mut unpacking = Unpacking::of(member);
        let mut at = place.start;
        while at < place.end {
            let piece = at..place.end.min(at + PIECE);
            at = piece.end;
            unpacking.feed(&bytes_at(read, piece)?, give)?;
        }
        unpacking.end()
    }
}
