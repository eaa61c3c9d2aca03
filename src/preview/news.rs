//! News: what changed, sent to every page that is open, as server-sent events (the HTML standard, 9.2).

use axum::body::{Body, Bytes, HttpBody};
use hyper::body::Frame;
use serde::Serialize;
use std::convert::Infallible;
use std::pin::Pin;
use std::sync::{Mutex, PoisonError};
use std::task::{Context, Poll};
use tokio::sync::mpsc::{Receiver, Sender, channel};

/// Events that wait for a page that does not take them; then it is let go, and asks again by itself.
const WAITING: usize = 256;

#[derive(Default)]
pub struct News(Mutex<Vec<Sender<Bytes>>>);

impl News {
    /// A page begins to listen.
    pub fn listen(&self) -> Body {
        let (sender, receiver) = channel(WAITING);
        let _ = sender.try_send(Bytes::from_static(b"retry: 1000\n\n"));
        self.0.lock().unwrap_or_else(PoisonError::into_inner).push(sender);
        Body::new(EventBody(receiver))
    }

    pub fn send(&self, name: &str, value: &impl Serialize) {
        // What cannot be written as JSON would be a fault of ours; the page asks for all of it anyway.
        let data = serde_json::to_string(value).unwrap_or_default();
        self.all(&format!("event: {name}\ndata: {data}\n\n").into());
    }

    /// A comment, so that a connection is known to stand.
    pub fn heartbeat(&self) {
        self.all(&Bytes::from_static(b": here\n\n"));
    }

    fn all(&self, words: &Bytes) {
        let mut pages = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        pages.retain(|page| page.try_send(words.clone()).is_ok());
    }
}

/// Events as they come, without an end.
struct EventBody(Receiver<Bytes>);

impl HttpBody for EventBody {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        self.0.poll_recv(context).map(|words| words.map(|words| Ok(Frame::data(words))))
    }
}
