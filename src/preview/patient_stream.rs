//! Patient stream: a connection that is closed when its other end takes nothing for too long.

use std::io::{Error, ErrorKind, Result};
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Sleep, sleep};

/// So long an answer may stand still.
const PATIENCE: Duration = Duration::from_secs(20);

pub struct PatientStream {
    stream: TcpStream,
    /// Runs while the other end takes nothing.
    waiting: Option<Pin<Box<Sleep>>>,
}

impl PatientStream {
    pub fn new(stream: TcpStream) -> PatientStream {
        PatientStream { stream, waiting: None }
    }

    fn patient<T>(&mut self, context: &mut Context<'_>, polled: Poll<Result<T>>) -> Poll<Result<T>> {
        if polled.is_ready() {
            self.waiting = None;
            return polled;
        }
        let waiting = self.waiting.get_or_insert_with(|| Box::pin(sleep(PATIENCE)));
        waiting.as_mut().poll(context).map(|()| Err(Error::from(ErrorKind::TimedOut)))
    }
}

impl AsyncRead for PatientStream {
    fn poll_read(mut self: Pin<&mut Self>, context: &mut Context<'_>, buffer: &mut ReadBuf<'_>) -> Poll<Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, buffer)
    }
}

impl AsyncWrite for PatientStream {
    fn poll_write(mut self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<Result<usize>> {
        let polled = Pin::new(&mut self.stream).poll_write(context, bytes);
        self.patient(context, polled)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        let polled = Pin::new(&mut self.stream).poll_flush(context);
        self.patient(context, polled)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }
}
