//! Routes: every address that the page may ask for.

use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::cover_id::CoverId;
use crate::preview::editor::{OpenOrder, open};
use crate::preview::guard::{Guard, guard};
use crate::preview::page_files::PAGE_FILES;
use crate::preview::pictures::{FaceQuery, face, proof, view};
use crate::preview::reading::{PointQuery, reading};
use crate::preview::studio::Studio;
use crate::preview::tiles::{TileQuery, names, tile};
use crate::preview::trying::{EarlierOrder, TryOrder, earlier, try_facts};
use crate::scene::PanelName;
use axum::Json;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::{StatusCode, header};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;
use serde_json::json;
use std::sync::{Arc, PoisonError};

/// Bytes of an order.
const BODY: usize = 16 << 10;

type SharedStudio = State<Arc<Studio>>;

pub fn routes(studio: Arc<Studio>, keeper: Arc<Guard>) -> Router {
    let page = |name: &'static str| get(move || async move { file(name) });
    Router::new()
        .route("/", page("index.html"))
        .route("/page.css", page("page.css"))
        .route("/icon.svg", page("icon.svg"))
        .route("/page/{name}", get(|Path(name): Path<String>| async move { file(&name) }))
        .route("/state", get(state))
        .route("/wanted", post(wanted))
        .route("/events", get(events))
        .route("/cover/{id}", get(cover))
        .route("/tiles/{id}", get(tile_names))
        .route("/tile/{id}/{name}", get(tile_picture))
        .route("/ink/{id}", get(ink))
        .route("/front/{id}", get(front))
        .route("/spine/{id}", get(spine))
        .route("/view/{id}/{name}", get(view_picture))
        .route("/proof/{id}/{page}", get(proof_page))
        .route("/try/{id}", post(try_order))
        .route("/earlier/{id}", post(earlier_order))
        .route("/open", post(open_order))
        .fallback(|| async { Declined::missing("there is nothing at this address") })
        .layer(DefaultBodyLimit::max(BODY))
        .layer(from_fn_with_state(keeper, guard))
        .with_state(studio)
}

fn file(name: &str) -> Response {
    let file = PAGE_FILES.iter().find(|(known, ..)| *known == name);
    file.map_or_else(
        || Declined::missing("the page has no such file").into_response(),
        |(_, kind, text)| ([(header::CONTENT_TYPE, *kind)], *text).into_response(),
    )
}

/// Work that takes a processor stands beside the connections; a fault in it ends this request alone.
async fn work(
    studio: Arc<Studio>,
    work: impl FnOnce(&Studio) -> Result<PageAnswer, Declined> + Send + 'static,
) -> Response {
    match tokio::task::spawn_blocking(move || work(&studio)).await {
        Ok(answer) => answer.into_response(),
        Err(_) => Declined::fault().into_response(),
    }
}

fn id(text: &str) -> Result<CoverId, Declined> {
    CoverId::read(text.trim_end_matches(PNG)).ok_or_else(|| Declined::missing("no cover has this name"))
}

const PNG: &str = ".png";

async fn state(State(studio): SharedStudio) -> Response {
    let titles = studio.titles().state();
    let mistakes = studio.list_mistakes.lock().unwrap_or_else(PoisonError::into_inner).clone();
    PageAnswer::Json(json!({ "editor": studio.editor.is_some(), "titles": titles, "mistakes": mistakes }))
        .into_response()
}

#[derive(Deserialize)]
struct WantedOrder {
    ids: Vec<u32>,
}

async fn wanted(State(studio): SharedStudio, Json(order): Json<WantedOrder>) -> StatusCode {
    studio.titles().wanted = order.ids;
    studio.ring();
    StatusCode::NO_CONTENT
}

async fn events(State(studio): SharedStudio) -> Response {
    ([(header::CONTENT_TYPE, "text/event-stream")], studio.news.listen()).into_response()
}

async fn cover(State(studio): SharedStudio, Path(name): Path<String>) -> Response {
    work(studio, move |studio| {
        let id = id(&name)?;
        studio.look(&id)?.account(&id, &studio.workshop.darkroom)
    })
    .await
}

async fn tile_names(State(studio): SharedStudio, Path(name): Path<String>, Query(query): Query<TileQuery>) -> Response {
    work(studio, move |studio| {
        let look = studio.look(&id(&name)?)?;
        let build = look.build;
        names(studio, look.picture()?.as_ref(), build, &query)
    })
    .await
}

async fn tile_picture(
    State(studio): SharedStudio,
    Path((cover, name)): Path<(String, String)>,
    Query(query): Query<TileQuery>,
) -> Response {
    work(studio, move |studio| {
        let shown = studio.look(&id(&cover)?)?.picture()?;
        tile(studio, &shown, name.trim_end_matches(PNG), &query)
    })
    .await
}

async fn ink(State(studio): SharedStudio, Path(name): Path<String>, Query(query): Query<PointQuery>) -> Response {
    work(studio, move |studio| reading(studio, studio.look(&id(&name)?)?.picture()?.as_ref(), &query)).await
}

async fn front(State(studio): SharedStudio, Path(name): Path<String>, Query(query): Query<FaceQuery>) -> Response {
    work(studio, move |studio| face(studio, &id(&name)?, PanelName::Front, &query)).await
}

async fn spine(State(studio): SharedStudio, Path(name): Path<String>, Query(query): Query<FaceQuery>) -> Response {
    work(studio, move |studio| face(studio, &id(&name)?, PanelName::Spine, &query)).await
}

async fn view_picture(State(studio): SharedStudio, Path((cover, name)): Path<(String, String)>) -> Response {
    work(studio, move |studio| view(studio, &id(&cover)?, name.trim_end_matches(PNG))).await
}

async fn proof_page(State(studio): SharedStudio, Path((cover, page)): Path<(String, String)>) -> Response {
    work(studio, move |studio| {
        let number = page.trim_end_matches(PNG).parse().unwrap_or_default();
        proof(studio, &id(&cover)?, number)
    })
    .await
}

async fn try_order(State(studio): SharedStudio, Path(name): Path<String>, Json(order): Json<TryOrder>) -> Response {
    work(studio, move |studio| try_facts(studio, &id(&name)?, &order)).await
}

async fn earlier_order(
    State(studio): SharedStudio,
    Path(name): Path<String>,
    Json(order): Json<EarlierOrder>,
) -> Response {
    work(studio, move |studio| earlier(studio, &id(&name)?, &order)).await
}

async fn open_order(State(studio): SharedStudio, Json(order): Json<OpenOrder>) -> Response {
    work(studio, move |studio| open(studio, &order)).await
}
