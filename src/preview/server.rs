//! The server itself: which address answers, what a request gets, and the stream that has pages loaded again.

use std::convert::Infallible;
use std::future::IntoFuture;
use std::io;
use std::net::{IpAddr, SocketAddr, TcpListener};

use axum::Router;
use axum::body::Body;
use axum::extract::{Request, State as Given};
use axum::http::{Method, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

use super::Stage;

/// How many ports are tried from the first on.
const TRIES: u16 = 50;

/// Files of the preview's own, below a path that no site has.
const OWN: &str = "/__preview/";

/// A worker that takes its place away from one that a published copy of the site may have left at this address.
const NO_WORKER: &str =
    "self.addEventListener('install',()=>self.skipWaiting());self.addEventListener('activate',()=>self.registration.unregister());";

/// A listener on the first free port from `port` on.
pub fn bind(host: IpAddr, port: u16) -> io::Result<TcpListener> {
    let mut last = None;
    for port in (0..TRIES).filter_map(|more| port.checked_add(more)) {
        match TcpListener::bind(SocketAddr::new(host, port)) {
            Ok(listener) => return Ok(listener),
            // Only a port in use is a reason to look for another one.
            Err(error) if error.kind() == io::ErrorKind::AddrInUse => last = Some(error),
            Err(error) => return Err(error),
        }
    }
    Err(last.unwrap_or_else(|| io::Error::from(io::ErrorKind::AddrNotAvailable)))
}

#[derive(Clone)]
struct Context {
    stage: Stage,
    address: SocketAddr,
}

/// Serves `stage` until the program is interrupted.
pub fn serve(listener: TcpListener, stage: Stage) -> io::Result<()> {
    listener.set_nonblocking(true)?;
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build()?;
    runtime.block_on(async {
        let context = Context { stage, address: listener.local_addr()? };
        let listener = tokio::net::TcpListener::from_std(listener)?;
        let app = Router::new()
            .route("/__preview/events", get(events))
            .fallback(page)
            .layer(middleware::from_fn_with_state(context.clone(), guard))
            .with_state(context);
        // An open stream never ends by itself, so the interrupt ends the server and not its connections.
        tokio::select! {
            ended = axum::serve(listener, app).into_future() => ended,
            _ = tokio::signal::ctrl_c() => Ok(()),
        }
    })
}

/// A page of a stranger could have its own name lead to this address and read what is here: only the names of this machine are answered.
async fn guard(Given(context): Given<Context>, request: Request, next: Next) -> Response {
    let host = request.headers().get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or_default();
    let name = host.rsplit_once(':').map_or(host, |(name, port)| if port.bytes().all(|b| b.is_ascii_digit()) { name } else { host });
    let literal = name.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>();
    let known = match literal {
        Ok(ip) => ip.is_loopback() || ip == context.address.ip() || context.address.ip().is_unspecified(),
        Err(_) => name.eq_ignore_ascii_case("localhost"),
    };
    if !known {
        return (StatusCode::MISDIRECTED_REQUEST, "This preview answers to localhost only.").into_response();
    }
    // There is nothing here to write to.
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        let allowed = [(header::ALLOW, "GET, HEAD")];
        return (StatusCode::METHOD_NOT_ALLOWED, allowed, "This preview is read, and nothing can be sent to it.").into_response();
    }
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, header::HeaderValue::from_static("no-store"));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, header::HeaderValue::from_static("nosniff"));
    response
}

async fn events(Given(context): Given<Context>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    // A listener that was too slow missed some news; the last one is enough.
    let news = BroadcastStream::new(context.stage.news.subscribe()).map(|_| Ok(Event::default().event("new").data("1")));
    Sse::new(news).keep_alive(KeepAlive::default())
}

async fn page(Given(context): Given<Context>, request: Request) -> Response {
    let path = decoded(request.uri().path());
    let state = context.stage.now();
    if let Some(own) = path.strip_prefix(OWN) {
        return match own {
            "panel.js" => file("panel.js", include_bytes!("panel.js").to_vec()),
            "panel.css" => file("panel.css", include_bytes!("panel.css").to_vec()),
            "report.json" => match serde_json::to_vec(&state.report) {
                Ok(bytes) => file("report.json", bytes),
                Err(error) => (StatusCode::INTERNAL_SERVER_ERROR, error.to_string()).into_response(),
            },
            "review.html" => file("review.html", state.review.clone()),
            _ => missing(),
        };
    }
    let mut name = path.trim_start_matches('/').to_owned();
    if name.is_empty() || name.ends_with('/') {
        name.push_str("index.html");
    }
    if name == "worker.js" {
        return file(&name, NO_WORKER.into());
    }
    match state.pages.get(&name) {
        Some(bytes) if name.ends_with(".html") => file(&name, with_panel(bytes)),
        Some(bytes) => file(&name, bytes.to_vec()),
        None if state.pages.is_empty() => {
            let fault = state.report.fault.clone().unwrap_or_else(|| "There are no pages yet.".to_owned());
            (StatusCode::SERVICE_UNAVAILABLE, fault).into_response()
        }
        None => missing(),
    }
}

fn missing() -> Response {
    (StatusCode::NOT_FOUND, "There is no such page in the site.").into_response()
}

/// The page with the panel's script and style before the end of its head. Its policy allows files of the same address.
fn with_panel(page: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(page);
    let own = format!("<link rel=\"stylesheet\" href=\"{OWN}panel.css\"><script src=\"{OWN}panel.js\" defer></script></head>");
    text.replacen("</head>", &own, 1).into_bytes()
}

fn file(name: &str, bytes: Vec<u8>) -> Response {
    let kind = match name.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" | "webmanifest" => "application/json; charset=utf-8",
        "xml" => "application/xml; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "pdf" => "application/pdf",
        _ => "application/octet-stream",
    };
    ([(header::CONTENT_TYPE, kind)], Body::from(bytes)).into_response()
}

/// A path with its `%` escapes read. Pages are looked up by name in memory, so no path can lead out of the site.
fn decoded(path: &str) -> String {
    let mut bytes = Vec::with_capacity(path.len());
    let mut rest = path.as_bytes();
    while let [first, more @ ..] = rest {
        let escape = more.get(..2).and_then(|two| u8::from_str_radix(std::str::from_utf8(two).ok()?, 16).ok()).filter(|_| *first == b'%');
        bytes.push(escape.unwrap_or(*first));
        rest = if escape.is_some() { &more[2..] } else { more };
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_in_a_path_are_read() {
        assert_eq!(decoded("/guides/a%20b/index.html"), "/guides/a b/index.html");
        assert_eq!(decoded("/100%"), "/100%");
        assert_eq!(decoded("/%zz%41"), "/%zzA");
    }

    #[test]
    fn the_panel_stands_in_the_head() {
        let page = String::from_utf8(with_panel(b"<head></head><body></head>")).unwrap();
        assert!(page.starts_with("<head><link") && page.ends_with("</head><body></head>"), "{page}");
    }

    #[test]
    fn a_taken_port_is_passed_over() {
        let host = IpAddr::from([127, 0, 0, 1]);
        let first = bind(host, 0).unwrap();
        let taken = first.local_addr().unwrap().port();
        if let Some(below) = taken.checked_add(1) {
            let second = bind(host, taken).unwrap().local_addr().unwrap().port();
            assert!(second >= below, "{second} after {taken}");
        }
    }
}
