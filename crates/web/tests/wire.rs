//! A small HTTP/1.1 client: what a browser sends, without a browser.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};

/// An answer.
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Answer {
    pub fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| {
            let (n, value) = line.split_once(':')?;
            n.eq_ignore_ascii_case(name).then(|| value.trim())
        })
    }

    /// The value of a hidden field, the first of that name.
    pub fn field(&self, name: &str) -> String {
        let mark = format!("name=\"{name}\" value=\"");
        let rest = self.body.split(&mark).nth(1).unwrap_or_else(|| panic!("no field {name}"));
        rest.split('"').next().unwrap().to_owned()
    }
}

pub fn get(at: SocketAddr, path: &str) -> Answer {
    send(at, &format!("GET {path} HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n"))
}

pub fn get_with(at: SocketAddr, path: &str, header: &str) -> Answer {
    send(at, &format!("GET {path} HTTP/1.1\r\nHost: {at}\r\n{header}\r\nConnection: close\r\n\r\n"))
}

/// As if a foreign name pointed at this machine.
pub fn get_as(at: SocketAddr, host: &str, path: &str) -> Answer {
    send(at, &format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"))
}

/// Text as it stands in an address or a form.
pub fn escaped(text: &str) -> String {
    text.bytes().map(|b| format!("%{b:02X}")).collect()
}

/// A form sent from a page of the site itself.
pub fn post(at: SocketAddr, path: &str, fields: &[(&str, &str)]) -> Answer {
    post_from(at, path, fields, &format!("http://{at}"))
}

/// The same, from a browser that holds cookies.
pub fn post_with(at: SocketAddr, path: &str, fields: &[(&str, &str)], cookie: &str) -> Answer {
    post_from(at, path, fields, &format!("http://{at}\r\nCookie: {cookie}"))
}

pub fn post_from(at: SocketAddr, path: &str, fields: &[(&str, &str)], origin: &str) -> Answer {
    let body: Vec<String> =
        fields.iter().map(|(n, v)| format!("{}={}", escaped(n), escaped(v))).collect();
    let body = body.join("&");
    send(
        at,
        &format!(
            "POST {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: {origin}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        ),
    )
}

fn send(at: SocketAddr, request: &str) -> Answer {
    send_bytes(at, request.as_bytes())
}

fn send_bytes(at: SocketAddr, request: &[u8]) -> Answer {
    let mut stream = TcpStream::connect(at).unwrap();
    stream.write_all(request).unwrap();
    let mut raw = Vec::new();
    stream.read_to_end(&mut raw).unwrap();
    let raw = String::from_utf8(raw).unwrap();
    let (head, body) = raw.split_once("\r\n\r\n").unwrap();
    let status = head.split(' ').nth(1).unwrap().parse().unwrap();
    Answer { status, head: head.to_owned(), body: body.to_owned() }
}

/// Files sent as a browser sends them (RFC 7578).
pub fn send_files(at: SocketAddr, path: &str, files: &[(&str, &[u8])]) -> Answer {
    let mut body = Vec::new();
    for (name, bytes) in files {
        let head = format!(
            "--edge\r\nContent-Disposition: form-data; name=\"files\"; filename=\"{name}\"\r\n\
             Content-Type: text/csv\r\n\r\n"
        );
        body.extend_from_slice(head.as_bytes());
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n");
    }
    body.extend_from_slice(b"--edge--\r\n");
    send_multipart(at, path, &body)
}

/// The body of such a request, whole or not.
pub fn send_multipart(at: SocketAddr, path: &str, body: &[u8]) -> Answer {
    send_body(at, path, "multipart/form-data; boundary=edge", body)
}

/// Any body of any kind.
pub fn send_body(at: SocketAddr, path: &str, kind: &str, body: &[u8]) -> Answer {
    let mut request = format!(
        "POST {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{at}\r\nConnection: close\r\n\
         Content-Type: {kind}\r\nContent-Length: {}\r\n\r\n",
        body.len()
    )
    .into_bytes();
    request.extend_from_slice(body);
    send_bytes(at, &request)
}
