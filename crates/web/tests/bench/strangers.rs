//! Who is answered and who is not, and what goes with every answer. Plain requests, word for word.

use crate::served::{ask, serve};
use std::net::{Ipv6Addr, SocketAddr, TcpListener};
use std::path::Path;

#[test]
fn only_a_loopback_name_with_our_port_is_answered() {
    let served = serve(&[]);
    let port = served.port;
    let get = |host: &str| {
        let host_line = if host.is_empty() {
            String::new()
        } else {
            format!("Host: {host}\r\n")
        };
        ask(
            served.v4(),
            &format!("GET /job/1 HTTP/1.1\r\n{host_line}Connection: close\r\n\r\n"),
        )
        .status
    };
    for host in ["127.0.0.1", "localhost", "[::1]"] {
        assert_eq!(get(&format!("{host}:{port}")), 200, "{host}");
    }
    for host in [
        String::new(),
        format!("bench.example:{port}"),
        "127.0.0.1".to_owned(),
        format!("127.0.0.1:{}", port ^ 1),
        format!("127.0.0.1.example:{port}"),
        format!("localhost.:{port}"),
        format!("0.0.0.0:{port}"),
    ] {
        assert_ne!(get(&host), 200, "{host}");
    }
    let two = format!(
        "GET /job/1 HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nHost: bench.example\r\nConnection: close\r\n\r\n"
    );
    assert_ne!(ask(served.v4(), &two).status, 200);
}

#[test]
fn what_changes_something_must_come_from_the_page_itself() {
    let served = serve(&[]);
    let port = served.port;
    let body = "entries=0&slot.deg=-1.2";
    let post = |origin: Option<String>| {
        let origin = origin.map_or_else(String::new, |o| format!("Origin: {o}\r\n"));
        ask(
            served.v4(),
            &format!(
                "POST /job/1/saw HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{origin}Content-Type: application/x-www-form-urlencoded\r\n\
                 Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
                body.len()
            ),
        )
        .status
    };
    for origin in [
        None,
        Some("null".to_owned()),
        Some("http://bench.example".to_owned()),
        Some(format!("https://127.0.0.1:{port}")),
        Some(format!("http://127.0.0.1:{}", port ^ 1)),
        // Another name of this machine is another origin to a browser.
        Some(format!("http://localhost:{port}")),
    ] {
        assert_eq!(post(origin.clone()), 403, "{origin:?}");
    }
    assert_eq!(served.entries("/job/1"), "0", "nothing was entered");
    assert_eq!(post(Some(format!("http://127.0.0.1:{port}"))), 303);
    assert_eq!(served.entries("/job/1"), "1");
    // Looking from a foreign page is refused as well.
    let read = format!(
        "GET /job/1 HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://bench.example\r\nConnection: close\r\n\r\n"
    );
    assert_eq!(ask(served.v4(), &read).status, 403);
}

#[test]
fn every_answer_forbids_what_is_not_its_own() {
    let served = serve(&[]);
    for path in [
        "/",
        "/job/1",
        "/jobs",
        "/bench.css",
        "/script/bench.js",
        "/script/ear.js",
        "/serif.woff2",
        "/nowhere",
        "/job/99",
    ] {
        let answer = served.get(path);
        let policy = answer.header("content-security-policy").expect("a policy");
        assert!(
            policy.starts_with("default-src 'none';"),
            "{path}: {policy}"
        );
        for word in ["unsafe", "*", "http:", "data:"] {
            assert!(!policy.contains(word), "{path}: {policy}");
        }
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
    }
    assert_eq!(served.get("/nowhere").status, 404);
    assert_eq!(served.get("/job/99").status, 404);
    let page = served.get("/job/1").body;
    for forbidden in ["<style", " style=\"", " onclick", "javascript:", "https://"] {
        assert!(!page.contains(forbidden), "{forbidden} in the page");
    }
    // Every script is a file of our own.
    assert_eq!(
        page.matches("<script").count(),
        page.matches("<script src=\"/").count()
    );
}

/// What a page loads, and what those modules import: each is there, a script by its kind, under the page's own policy; and no other
/// is served.
#[test]
fn every_script_comes_from_a_file_of_its_own() {
    let served = serve(&[]);
    let named = |text: &str, before: &str| -> Vec<String> {
        let parts = text.split(before).skip(1);
        let named = parts.filter_map(|part| Some(part.split_once('"')?.0.to_owned()));
        named.collect()
    };
    let mut found: Vec<String> = ["/job/1", "/job/1/strike", "/job/1/listen"]
        .iter()
        .flat_map(|page| named(&served.get(page).body, "<script src=\"/script/"))
        .collect();
    // What is heard is carried by a script beside the page.
    found.push("ear.js".to_owned());
    let mut next = 0;
    while let Some(name) = found.get(next).cloned() {
        next += 1;
        let answer = served.get(&format!("/script/{name}"));
        assert_eq!(answer.status, 200, "{name}");
        let kind = "text/javascript; charset=utf-8";
        assert_eq!(answer.header("content-type"), Some(kind), "{name}");
        assert!(answer.header("content-security-policy").is_some(), "{name}");
        for import in named(&answer.body, "\"./") {
            if !found.contains(&import) {
                found.push(import);
            }
        }
    }
    found.sort();
    found.dedup();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/script");
    let mut files: Vec<String> = (std::fs::read_dir(folder).expect("a folder"))
        .map(|file| {
            file.expect("a file")
                .file_name()
                .into_string()
                .expect("a name")
        })
        .collect();
    files.sort();
    assert_eq!(found, files, "each file is used by some page");
    for gone in [
        "/bench.js",
        "/strike.js",
        "/listen.js",
        "/ear.js",
        "/slate.js",
        "/script/none.js",
    ] {
        assert_eq!(served.get(gone).status, 404, "{gone}");
    }
}

#[test]
fn it_listens_on_this_machine_alone() {
    let served = serve(&[]);
    if TcpListener::bind((Ipv6Addr::LOCALHOST, 0)).is_ok() {
        let six = SocketAddr::from((Ipv6Addr::LOCALHOST, served.port));
        let asked = format!(
            "GET /job/1 HTTP/1.1\r\nHost: [::1]:{}\r\nConnection: close\r\n\r\n",
            served.port
        );
        assert_eq!(ask(six, &asked).status, 200);
    } else {
        println!("this machine has no [::1]: not tried");
    }
    // Where it does not listen, the port is free to others.
    TcpListener::bind(("127.0.0.2", served.port)).expect("only 127.0.0.1 is taken");
}

#[test]
fn without_its_script_the_page_takes_what_is_typed_and_says_what_to_do() {
    let served = serve(&[]);
    let refused = served.post("/job/1/saw", &[("entries", "0")]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("Nothing is read yet"));
    let wrong = served.post("/job/1/saw", &[("entries", "0"), ("slot.deg", "high <up>")]);
    assert_eq!(wrong.status, 422);
    assert!(wrong.body.contains("high &lt;up&gt;") && !wrong.body.contains("high <up>"));
    let saw = [
        ("entries", "0"),
        ("slot.deg", "−1,2"),
        ("slot.sure", "sure"),
        ("star.deg", "-10"),
        ("star.sure", "sure"),
        ("pin.deg", "-75"),
    ];
    assert_eq!(served.post("/job/1/saw", &saw).status, 303);
    let page = served.get("/job/1").body;
    assert!(
        page.contains("Two teeth <b class=\"moved\">counterclockwise</b>"),
        "the answer"
    );
    // Drawn before the other entry: nothing is entered twice.
    assert_eq!(served.post("/job/1/saw", &saw).status, 409);
    assert_eq!(served.entries("/job/1"), "1");
    assert_eq!(served.post("/job/1/done", &[("entries", "1")]).status, 303);
    assert!(
        served
            .get("/job/1")
            .body
            .contains("Done: second, two teeth counterclockwise.")
    );
    // What is being read goes along when the view is turned.
    let turned = served.post(
        "/job/1/view",
        &[
            ("turn", "plate"),
            ("slot.deg", "-0.5"),
            ("slot.sure", "rough"),
        ],
    );
    let to = turned.header("location").expect("sent on");
    assert_eq!(to, "/job/1?look&slot.deg=-0.5&slot.sure=rough");
    let front = served.get(to).body;
    assert!(front.contains("from the front plate") && front.contains("value=\"-0.5\""));
    assert!(
        front.contains("Done: second, two teeth clockwise."),
        "the log is said as it is seen"
    );
}
