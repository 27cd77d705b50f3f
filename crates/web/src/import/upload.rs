//! Files as a browser sends them.

use axum::extract::multipart::{Field, Multipart, MultipartRejection};
use axum::response::{IntoResponse, Redirect, Response};
use sheets::sheet::FileIn;

use super::staging::{MOST_BYTES, MOST_FILES};
use crate::failure::Failure;
use crate::site::Site;

/// What is read of one request before the connection is cut, so that whoever sends a little too
/// much still gets an answer; our choice.
pub const LARGEST_REQUEST: usize = 512 << 20;
/// Longest name of a file that is kept, in characters; our choice.
const LONGEST_NAME: usize = 120;

/// `POST /import`
pub async fn upload(
    site: Site,
    sent: Result<Multipart, MultipartRejection>,
) -> Result<Response, Failure> {
    let mut sent = sent.map_err(|_| unreadable())?;
    let mut files: Vec<FileIn> = Vec::new();
    let (mut bytes, mut too_much) = (0, false);
    while let Some(field) = sent.next_field().await.map_err(|_| unreadable())? {
        let Some(name) = field.file_name().map(base_name) else { continue };
        let content = whole(field, &mut bytes).await?;
        too_much |= bytes > MOST_BYTES || files.len() >= MOST_FILES;
        // A browser sends one nameless empty file where none was chosen.
        let is_nothing = name.is_empty() && content.is_empty();
        if !too_much && !is_nothing {
            let name = free_name(&files, name);
            files.push(FileIn { name, bytes: content });
        }
    }
    if too_much {
        return Err(Failure::typed(
            format!(
                "That is more than {} MiB or {MOST_FILES} files at once; nothing was kept.",
                MOST_BYTES >> 20
            ),
            "Send fewer files at a time, or use the import command for very large ones.",
        ));
    }
    if files.is_empty() {
        return Err(Failure::typed(
            "No file was chosen.",
            "Choose one sheet or several, and send them.",
        ));
    }
    if let Some(journal) = files.iter().find(|f| is_journal(&f.bytes)) {
        return Err(Failure::typed(
            format!("\"{}\" is a whole journal as text, not a sheet.", journal.name),
            "Bring it in with the import command; the sheets beside it can be sent here.",
        ));
    }
    let id = site.staging().take(files, site.now());
    Ok(Redirect::to(&format!("/import/{id}")).into_response())
}

/// All of a file. What is beyond the limit is read past, not kept.
async fn whole(mut field: Field<'_>, bytes: &mut usize) -> Result<Vec<u8>, Failure> {
    let mut content = Vec::new();
    while let Some(chunk) = field.chunk().await.map_err(|_| unreadable())? {
        *bytes = bytes.saturating_add(chunk.len());
        if *bytes > MOST_BYTES {
            content = Vec::new();
        } else {
            content.extend_from_slice(&chunk);
        }
    }
    Ok(content)
}

/// The name without its folders and without what no name should hold.
fn base_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let clean = last.chars().filter(|c| !c.is_control()).take(LONGEST_NAME);
    clean.collect::<String>().trim().to_owned()
}

/// Two files of one name are told apart.
fn free_name(files: &[FileIn], name: String) -> String {
    let name = if name.is_empty() { "sheet".to_owned() } else { name };
    let is_free = |name: &str| files.iter().all(|f| f.name != name);
    if is_free(&name) {
        return name;
    }
    let numbered = (2..).map(|n| format!("{name} ({n})")).find(|name| is_free(name));
    numbered.unwrap_or(name)
}

/// As the import command knows it: by its first line.
fn is_journal(bytes: &[u8]) -> bool {
    let first = bytes.split(|b| *b == b'\n').next().unwrap_or_default();
    let first = String::from_utf8_lossy(&first[..first.len().min(4096)]);
    first.starts_with('{') && first.contains("clutchwright journal")
}

fn unreadable() -> Failure {
    Failure::typed(
        "The files did not arrive whole; nothing was kept.",
        "Open Import and choose them again. Very large files go in by the import command.",
    )
}
