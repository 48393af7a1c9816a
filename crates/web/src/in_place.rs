//! A step made by the page's own script: a form that sends the browser on is answered with the page that it sends it on to, so that one
//! request does for two. Without the script the browser is sent on as ever.

use axum::body::Body;
use axum::extract::Request;
use axum::http::{HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::Response;

/// By this header, whatever it says, the script tells that it puts what comes in place of what is shown.
const IN_PLACE: &str = "trundle-in-place";

/// Follows where a form is sent on to, as the browser would. Where the page that comes has its place is told by `Content-Location`
/// (RFC 9110, 8.7, from memory).
pub(crate) async fn in_place(request: Request, next: Next) -> Response {
    if request.method() != Method::POST || !request.headers().contains_key(IN_PLACE) {
        return next.run(request).await;
    }
    let mut headers = request.headers().clone();
    let answer = next.clone().run(request).await;
    let Some(on) = sent_on(&answer) else {
        return answer;
    };
    for of_the_form in [header::CONTENT_TYPE, header::CONTENT_LENGTH] {
        headers.remove(of_the_form);
    }
    let place = HeaderValue::from_str(&on.to_string());
    let mut follows = Request::new(Body::empty());
    *follows.uri_mut() = on;
    *follows.headers_mut() = headers;
    let mut page = next.run(follows).await;
    // What is sent on once more is followed by the browser.
    if let (Ok(place), false) = (place, page.status().is_redirection()) {
        page.headers_mut().insert(header::CONTENT_LOCATION, place);
    }
    page
}

/// Where an answer sends the browser on to, to be read; nothing where it first has to mind something.
fn sent_on(answer: &Response) -> Option<Uri> {
    if answer.status() != StatusCode::SEE_OTHER || answer.headers().contains_key(header::SET_COOKIE)
    {
        return None;
    }
    let on = answer.headers().get(header::LOCATION)?.to_str().ok()?;
    // A place on the page is the browser's own affair.
    on.split('#').next()?.parse().ok()
}
