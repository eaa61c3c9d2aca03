//! Answer: what a request gets, and why it gets nothing.

use axum::Json;
use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use serde_json::{Value, json};
use std::sync::Arc;

pub enum PageAnswer {
    Json(Value),
    /// Its address names its content, so a browser may keep it.
    Png(Arc<Vec<u8>>),
    /// A picture whose address does not name its content: asked for again each time.
    PassingPng(Arc<Vec<u8>>),
    Done,
}

impl PageAnswer {
    pub fn json(value: &impl Serialize) -> Result<PageAnswer, Declined> {
        Ok(PageAnswer::Json(serde_json::to_value(value).map_err(|_| Declined::fault())?))
    }
}

/// A request that gets nothing: what is in the way, and a way out.
#[derive(Debug)]
pub struct Declined {
    pub status: StatusCode,
    pub message: String,
    pub help: String,
}

impl Declined {
    pub fn new(status: StatusCode, message: impl Into<String>, help: impl Into<String>) -> Declined {
        Declined { status, message: message.into(), help: help.into() }
    }

    pub fn missing(message: impl Into<String>) -> Declined {
        Declined::new(StatusCode::NOT_FOUND, message, "")
    }

    /// What was asked for makes no sense with this cover.
    pub fn unfit(message: impl Into<String>, help: impl Into<String>) -> Declined {
        Declined::new(StatusCode::UNPROCESSABLE_ENTITY, message, help)
    }

    /// A name that was true before the last build.
    pub fn outdated() -> Declined {
        Declined::new(StatusCode::GONE, "this picture has been replaced by a newer one", "ask for its new name")
    }

    pub fn fault() -> Declined {
        let message = "this request met a fault of the program itself";
        let help = "please report it, with the cover and the lines in the terminal";
        Declined::new(StatusCode::INTERNAL_SERVER_ERROR, message, help)
    }
}

impl IntoResponse for Declined {
    fn into_response(self) -> Response {
        (self.status, Json(json!({ "message": self.message, "help": self.help }))).into_response()
    }
}

impl IntoResponse for PageAnswer {
    fn into_response(self) -> Response {
        match self {
            PageAnswer::Json(value) => Json(value).into_response(),
            PageAnswer::Done => StatusCode::NO_CONTENT.into_response(),
            PageAnswer::PassingPng(bytes) => png(bytes.to_vec()),
            PageAnswer::Png(bytes) => {
                let mut response = png(bytes.to_vec());
                let kept = HeaderValue::from_static("private, max-age=31536000, immutable");
                response.headers_mut().insert(header::CACHE_CONTROL, kept);
                response
            }
        }
    }
}

fn png(bytes: Vec<u8>) -> Response {
    let mut response = Response::new(Body::from(bytes));
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static("image/png"));
    response
}
