//! A static file server for loopback, as plain as the hosts `dist/` is meant for.

use crate::run::Outcome;
use std::{
    fs,
    io::{self, BufRead, BufReader, Write},
    net::{SocketAddr, TcpListener, TcpStream},
    path::{Component, Path, PathBuf},
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
    },
    thread::{self, JoinHandle},
    time::Duration,
};

/// A running server. Dropping it closes its port: from then on connections are refused.
#[derive(Debug)]
pub struct Server {
    address: SocketAddr,
    stopping: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Server {
    /// Serves a folder on loopback. Port 0 lets the system choose a free one.
    ///
    /// # Errors
    /// When the port is taken.
    pub fn start(folder: &Path, port: u16) -> Outcome<Self> {
        let listener = TcpListener::bind(("127.0.0.1", port))
            .map_err(|error| format!("cannot listen on port {port}: {error}"))?;
        let address = listener.local_addr().map_err(|error| format!("cannot tell the port: {error}"))?;
        let stopping = Arc::new(AtomicBool::new(false));
        let (folder, stop) = (folder.to_path_buf(), Arc::clone(&stopping));
        let thread = thread::spawn(move || accept(&listener, &folder, &stop));
        Ok(Self { address, stopping, thread: Some(thread) })
    }

    /// The address to open in a browser.
    #[must_use]
    pub fn url(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// The port it listens on.
    #[must_use]
    pub fn port(&self) -> u16 {
        self.address.port()
    }

    /// Serves until the process ends.
    pub fn forever(mut self) {
        if let Some(thread) = self.thread.take() {
            // The accepting loop ends only when the server is dropped.
            let _ = thread.join();
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.stopping.store(true, Ordering::SeqCst);
        // Wakes the accepting loop, which then gives up the port.
        let _ = TcpStream::connect(self.address);
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn accept(listener: &TcpListener, folder: &Path, stopping: &AtomicBool) {
    for stream in listener.incoming() {
        if stopping.load(Ordering::SeqCst) {
            return;
        }
        let Ok(stream) = stream else { continue };
        let folder = folder.to_path_buf();
        // A browser that hangs up in the middle of an answer is its own affair.
        thread::spawn(move || answer(&stream, &folder));
    }
}

/// Answers one request and closes: a stopped server has no connection left to speak through.
fn answer(stream: &TcpStream, folder: &Path) -> io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(10)))?;
    let mut reader = BufReader::new(stream);
    let mut first = String::new();
    reader.read_line(&mut first)?;
    let (mut header, mut takes_brotli) = (String::new(), false);
    while reader.read_line(&mut header)? > 2 {
        header.make_ascii_lowercase();
        takes_brotli |= header.starts_with("accept-encoding:") && header.contains("br");
        header.clear();
    }
    let mut words = first.split_whitespace();
    let (method, target) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    if method != "GET" && method != "HEAD" {
        return respond(stream, "405 Method Not Allowed", "text/plain", b"only GET and HEAD", method);
    }
    let Some(path) = file(folder, target) else {
        return respond(stream, "404 Not Found", "text/plain", b"no such file", method);
    };
    let kind = media_type(&path);
    // As hosts do that find a packed file beside the plain one.
    if takes_brotli && let Ok(packed) = fs::read(packed(&path)) {
        return respond(stream, "200 OK", &format!("{kind}\r\nContent-Encoding: br"), &packed, method);
    }
    match fs::read(&path) {
        Ok(body) => respond(stream, "200 OK", kind, &body, method),
        Err(_) => respond(stream, "404 Not Found", "text/plain", b"no such file", method),
    }
}

fn respond(mut stream: &TcpStream, status: &str, kind: &str, body: &[u8], method: &str) -> io::Result<()> {
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-cache\r\n\
         X-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes())?;
    if method != "HEAD" {
        stream.write_all(body)?;
    }
    stream.flush()
}

/// The file a request names; nothing outside the folder can be named.
fn file(folder: &Path, target: &str) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
    let inside = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    let file = folder.join(path);
    match (inside, file.is_dir()) {
        (false, _) => None,
        (true, true) => Some(file.join("index.html")),
        (true, false) => Some(file),
    }
}

/// Where a file lies packed by brotli, if it does.
#[must_use]
pub fn packed(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".br");
    name.into()
}

fn media_type(path: &Path) -> &'static str {
    match path.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("jsonl") => "application/jsonl",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    fn ask(port: u16, request: &str) -> io::Result<String> {
        let mut stream = TcpStream::connect(("127.0.0.1", port))?;
        stream.write_all(request.as_bytes())?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer)?;
        Ok(answer)
    }

    #[test]
    fn serves_its_folder_only_and_refuses_connections_once_stopped() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let server = Server::start(&folder, 0).unwrap();
        let port = server.port();
        let get = |target: &str| ask(port, &format!("GET {target} HTTP/1.1\r\nHost: localhost\r\n\r\n"));
        assert!(get("/server.rs?x=1").unwrap().starts_with("HTTP/1.1 200"));
        assert!(get("/absent").unwrap().starts_with("HTTP/1.1 404"));
        assert!(get("/../Cargo.toml").unwrap().starts_with("HTTP/1.1 404"));
        assert!(get("//etc/hostname").unwrap().starts_with("HTTP/1.1 404"));
        let post = ask(port, "POST / HTTP/1.1\r\n\r\n").unwrap();
        assert!(post.starts_with("HTTP/1.1 405"));
        drop(server);
        assert!(ask(port, "GET / HTTP/1.1\r\n\r\n").is_err());
    }

    #[test]
    fn wasm_has_the_type_that_streaming_compilation_asks_for() {
        // WebAssembly Web API, section 3: the response's type must be application/wasm.
        assert_eq!(media_type(Path::new("a_bg.wasm")), "application/wasm");
    }
}
