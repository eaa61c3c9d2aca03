//! Serve: the connections: on this machine alone, a bounded number of them, each with bounds of time and size.

use crate::preview::guard::Guard;
use crate::preview::patient_stream::PatientStream;
use crate::preview::routes::routes;
use crate::preview::studio::Studio;
use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::io::ErrorKind;
use std::net::{Ipv4Addr, TcpListener};
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::runtime::Builder;
use tokio::sync::{Semaphore, oneshot};

/// Where the page is by default: a port that Debian's `/etc/services` gives to no service.
pub const PORT: u16 = 28_470;
/// So many ports are tried, one after the other.
const PORTS: u16 = 40;
/// Connections at once, of which a browser needs a handful.
const CONNECTIONS: usize = 64;
/// Requests in work at once; the others wait.
const WORKERS: usize = 6;
/// A request must have come so soon, from its first byte to the end of its head; an idle connection is closed.
const HEAD: Duration = Duration::from_secs(10);
/// Bytes and lines of a request's head.
const HEAD_BYTES: usize = 16 << 10;
const HEAD_LINES: usize = 64;
/// So often a page that listens hears that the connection stands.
const HEARTBEAT: Duration = Duration::from_secs(15);
/// When the system has no room for one more connection.
const PAUSE: Duration = Duration::from_millis(50);

const FULL: &[u8] =
    b"HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\nContent-Type: text/plain\r\nContent-Length: 48\r\n\r\n\
    too many connections; try again in a few seconds";

/// The first free port from the wanted one on, on this machine alone.
pub fn listener(wanted: u16) -> Result<TcpListener, String> {
    let mut last = String::new();
    for port in (wanted..=u16::MAX).take(usize::from(PORTS)) {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
            Ok(listener) => return Ok(listener),
            Err(fault) if fault.kind() == ErrorKind::AddrInUse => last = fault.to_string(),
            Err(fault) => return Err(format!("port {port} cannot be used: {fault}")),
        }
    }
    Err(format!("no port from {wanted} on is free: {last}"))
}

/// Answers requests until `stop` comes.
pub fn serve(
    listener: TcpListener,
    studio: &Arc<Studio>,
    guard: Guard,
    stop: oneshot::Receiver<Result<(), String>>,
) -> Result<(), String> {
    let said = |fault: std::io::Error| format!("the page cannot be served: {fault}");
    listener.set_nonblocking(true).map_err(said)?;
    let runtime = Builder::new_current_thread().enable_all().max_blocking_threads(WORKERS).build().map_err(said)?;
    let router = routes(studio.clone(), Arc::new(guard));
    let served = runtime.block_on(async {
        let listener = tokio::net::TcpListener::from_std(listener)?;
        let studio = studio.clone();
        tokio::spawn(async move {
            loop {
                tokio::time::sleep(HEARTBEAT).await;
                studio.news.heartbeat();
            }
        });
        tokio::spawn(accept(listener, router));
        Ok(stop.await)
    });
    // Open pages and pictures half painted are not waited for.
    runtime.shutdown_background();
    // A fault in the thread that was to say stop ends the preview, too.
    served.map_err(said)?.unwrap_or_else(|_| Err("the preview met a fault of the program itself".to_owned()))
}

async fn accept(listener: tokio::net::TcpListener, router: Router) {
    let places = Arc::new(Semaphore::new(CONNECTIONS));
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            tokio::time::sleep(PAUSE).await;
            continue;
        };
        let Ok(place) = places.clone().try_acquire_owned() else {
            // The system takes so few bytes at once; a client that does not read them is let go all the same.
            let _ = stream.try_write(FULL);
            continue;
        };
        let router = router.clone();
        tokio::spawn(async move {
            // A connection that breaks is its client's affair.
            let _ = answer(stream, router).await;
            drop(place);
        });
    }
}

async fn answer(stream: TcpStream, router: Router) -> Result<(), hyper::Error> {
    let _ = stream.set_nodelay(true);
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEAD).max_buf_size(HEAD_BYTES).max_headers(HEAD_LINES);
    http.serve_connection(TokioIo::new(PatientStream::new(stream)), TowerToHyperService::new(router)).await
}
