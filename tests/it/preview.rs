//! `bayleaf preview` as a whole program: what it serves, to whom, and that a saved guide is on its page soon after.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A running preview; it ends with the test.
struct Preview {
    child: Child,
    address: String,
}

impl Drop for Preview {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn start(folder: &Path, port: u16) -> Preview {
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .args(["-C".as_ref(), folder.as_os_str(), "preview".as_ref(), "--port".as_ref()])
        .arg(port.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    let address = line.trim().trim_start_matches("http://").trim_end_matches('/').to_owned();
    assert!(address.starts_with("127.0.0.1:"), "{line}");
    Preview { child, address }
}

/// Status line, head and body of an answer.
fn get(preview: &Preview, path: &str, host: Option<&str>) -> (String, String) {
    let mut stream = TcpStream::connect(&preview.address).unwrap();
    let host = host.unwrap_or(&preview.address);
    write!(stream, "GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    let answer = String::from_utf8_lossy(&answer).into_owned();
    let (head, body) = answer.split_once("\r\n\r\n").unwrap();
    (head.to_owned(), body.to_owned())
}

fn wait_for(what: &str, mut holds: impl FnMut() -> bool) {
    let start = Instant::now();
    while !holds() {
        assert!(start.elapsed() < Duration::from_secs(60), "never happened: {what}");
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// One demo guide and the shop file in a folder of their own.
fn workplace() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let guide = folder.path().join("guides/transmission-cooler");
    fs::create_dir_all(&guide).unwrap();
    fs::copy(root().join("guides/shop.toml"), folder.path().join("guides/shop.toml")).unwrap();
    for entry in fs::read_dir(root().join("guides/transmission-cooler")).unwrap().flatten() {
        fs::copy(entry.path(), guide.join(entry.file_name())).unwrap();
    }
    folder
}

#[test]
fn a_saved_guide_is_on_its_page_and_its_findings_beside_it() {
    let folder = workplace();
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port();
    let preview = start(folder.path(), port);
    assert!(!preview.address.ends_with(&format!(":{port}")), "the port is taken, so another one is chosen");

    let page = "/guides/transmission-cooler/index.html";
    let (head, body) = get(&preview, page, None);
    assert!(head.starts_with("HTTP/1.1 200") && head.to_lowercase().contains("cache-control: no-store"), "{head}");
    assert!(body.contains("/__preview/panel.js") && !body.contains("NOT RELEASED"), "the page with the panel");
    assert!(get(&preview, "/", None).0.starts_with("HTTP/1.1 200"));
    assert!(get(&preview, "/guides/gone/index.html", None).0.starts_with("HTTP/1.1 404"));

    let file = folder.path().join("guides/transmission-cooler/guide.md");
    let text = fs::read_to_string(&file).unwrap();
    let (before, after) = text.split_once("\n## ").unwrap();
    fs::write(
        &file,
        format!("{before}\n## A step that was not here\n\n+++\ndo = [{{ fit = \"no-such-thing\" }}]\n+++\n\nDo it.\n\n## {after}"),
    )
    .unwrap();
    wait_for("the new step on the page", || get(&preview, page, None).1.contains("A step that was not here"));
    assert!(get(&preview, page, None).1.contains("NOT RELEASED"), "a held guide is shown as a draft");
    let report: serde_json::Value = serde_json::from_str(&unchunked(&get(&preview, "/__preview/report.json", None).1)).unwrap();
    let found = report["guides"]["transmission-cooler"].as_array().unwrap();
    let finding = found.iter().find(|finding| finding["rule"] == "id-unknown").expect("the unknown thing is told");
    let anchor = finding["anchor"].as_str().unwrap();
    assert!(get(&preview, "/__preview/review.html", None).1.contains(&format!("id=\"{anchor}\"")), "the line has its place: {anchor}");

    fs::write(&file, &text).unwrap();
    wait_for("the old page again", || !get(&preview, page, None).1.contains("A step that was not here"));

    let theme = folder.path().join("themes");
    fs::create_dir(&theme).unwrap();
    fs::write(theme.join("guide.html"), "{% if %}").unwrap();
    // A new folder is found by itself, and so is what is wrong with it.
    fs::write(&file, format!("{text}\n")).unwrap();
    wait_for("the fault of the theme", || get(&preview, "/__preview/report.json", None).1.contains("theme"));
    assert!(get(&preview, page, None).0.starts_with("HTTP/1.1 200"), "the last good page stays");
}

/// Only this machine's names are answered, and no path leads out of the site.
#[test]
fn strangers_and_paths_that_lead_out_get_nothing() {
    let folder = workplace();
    let preview = start(folder.path(), 0);
    for host in ["evil.example", "evil.example:80", "localhost.evil.example:7707", "192.0.2.7"] {
        let (head, body) = get(&preview, "/", Some(host));
        assert!(head.starts_with("HTTP/1.1 421"), "{host}: {head}");
        assert!(!body.contains("<html"), "{host}");
    }
    for host in ["localhost:1", "LOCALHOST", "127.0.0.1:99"] {
        assert!(get(&preview, "/", Some(host)).0.starts_with("HTTP/1.1 200"), "{host}");
    }
    for path in [
        "/../guides/shop.toml",
        "/%2e%2e/guides/shop.toml",
        "/guides/transmission-cooler/guide.md",
        "//etc/passwd",
        "/guides/..%2f..%2fshop.toml",
    ] {
        assert!(get(&preview, path, None).0.starts_with("HTTP/1.1 404"), "{path}");
    }
}

/// Whatever is sent, it is only read from (RFC 9110, 15.5.6: the answer names what is allowed).
#[test]
fn only_reading_is_answered() {
    let folder = workplace();
    let preview = start(folder.path(), 0);
    let ask = |method: &str| {
        let mut stream = TcpStream::connect(&preview.address).unwrap();
        write!(stream, "{method} / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\nConnection: close\r\n\r\n").unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        String::from_utf8_lossy(&answer).into_owned()
    };
    for method in ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "PROPFIND", "NONSENSE"] {
        let answer = ask(method);
        assert!(answer.starts_with("HTTP/1.1 405") && answer.to_lowercase().contains("allow: get, head"), "{method}: {answer}");
    }
    assert!(ask("GET").starts_with("HTTP/1.1 200"));
    let head = ask("HEAD");
    assert!(head.starts_with("HTTP/1.1 200") && head.ends_with("\r\n\r\n"), "{head}");
}

/// A folder that is moved away and back, or made later, is another one for the system, and still watched.
#[test]
fn guides_moved_away_and_back_and_a_theme_made_later_are_watched() {
    let folder = workplace();
    let preview = start(folder.path(), 0);
    let (page, guides) = ("/guides/transmission-cooler/index.html", folder.path().join("guides"));
    let file = guides.join("transmission-cooler/guide.md");
    let fault = || get(&preview, "/__preview/report.json", None).1;
    fs::rename(&guides, folder.path().join("away")).unwrap();
    wait_for("the missing folder is told", || fault().contains("cannot read the folder"));
    fs::rename(folder.path().join("away"), &guides).unwrap();
    wait_for("the folder is found again", || !fault().contains("cannot read the folder"));
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replacen("\n## ", "\n## First of all: ", 1)).unwrap();
    wait_for("a guide saved in the folder that came back", || get(&preview, page, None).1.contains("First of all"));
    let theme = folder.path().join("themes");
    fs::create_dir(&theme).unwrap();
    std::thread::sleep(Duration::from_millis(300));
    fs::write(theme.join("guide.html"), "{% if %}").unwrap();
    wait_for("a file saved in a theme that was made later", || fault().contains("theme"));
}

/// Connections that say half of what they want, and readers that never read, keep nobody waiting; an interrupt ends the program with all of
/// them open. It listens on the loopback address alone and writes nothing.
#[test]
fn hundreds_of_slow_connections_keep_nobody_waiting_and_an_interrupt_ends_at_once() {
    let folder = workplace();
    let mut preview = start(folder.path(), 0);
    let page = "/guides/transmission-cooler/index.html";
    let port = preview.address.rsplit(':').next().unwrap().to_owned();
    // All of 127/8 is this machine (RFC 1122, 3.2.1.3), and one address of it is listened on.
    assert!(TcpStream::connect(format!("127.0.0.2:{port}")).is_err(), "it listens on more than 127.0.0.1");
    let mut open = Vec::new();
    for at in 0..300 {
        let mut stream = TcpStream::connect(&preview.address).unwrap();
        match at % 3 {
            0 => write!(stream, "GET {page} HTT").unwrap(),
            1 => write!(stream, "GET {page} HTTP/1.1\r\nHost: localhost\r\nX-Slow: ").unwrap(),
            // Asks again and again and reads no answer.
            _ => (0..20).for_each(|_| write!(stream, "GET {page} HTTP/1.1\r\nHost: localhost\r\n\r\n").unwrap()),
        }
        open.push(stream);
    }
    let mut listener = TcpStream::connect(&preview.address).unwrap();
    write!(listener, "GET /__preview/events HTTP/1.1\r\nHost: localhost\r\n\r\n").unwrap();
    open.push(listener);
    for _ in 0..20 {
        assert!(get(&preview, page, None).0.starts_with("HTTP/1.1 200"));
    }
    // A head without end, and one with a thousand fields, are refused and not gathered.
    for head in [format!("GET /{} HTTP/1.1\r\n", "x".repeat(2 << 20)), format!("GET / HTTP/1.1\r\n{}\r\n", "X: y\r\n".repeat(1_000))] {
        let mut stream = TcpStream::connect(&preview.address).unwrap();
        let _ = stream.write_all(head.as_bytes());
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        assert!(!answer.starts_with(b"HTTP/1.1 200"), "{}", String::from_utf8_lossy(&answer));
    }
    let names: Vec<String> =
        fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    assert_eq!(names, ["guides"], "it wrote something");
    let interrupted = Command::new("kill").args(["-INT", &preview.child.id().to_string()]).status().unwrap();
    assert!(interrupted.success());
    wait_for("the end of the program", || preview.child.try_wait().unwrap().is_some());
    assert_eq!(preview.child.wait().unwrap().code(), Some(0), "an interrupt is how it ends");
    drop(open);
}

/// The body as it was before it was sent in pieces (RFC 9112, 7.1); one that was not is given back as it is.
fn unchunked(body: &str) -> String {
    let Some(start) = body.find(['{', '[']) else { return body.to_owned() };
    let end = body.rfind(['}', ']']).map_or(body.len(), |at| at + 1);
    body[start..end].to_owned()
}
