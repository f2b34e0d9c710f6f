//! Where the book lies: folders, rights, full disks, copies.

use std::fs;
use std::path::Path;

use super::super::*;
use super::fixture::*;

#[cfg(unix)]
fn rights(path: &Path) -> u32 {
    use std::os::unix::fs::PermissionsExt;
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
#[cfg(unix)]
fn only_the_owner_can_read_it() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a/b/book");
    let book = Book::open(&path).unwrap();
    fill(&book);
    let copy = folder.path().join("copy");
    book.backup_to(&copy).unwrap();
    assert_eq!(rights(&folder.path().join("a")), 0o700);
    for file in [path.clone(), folder.path().join("a/b/book-wal"), folder.path().join("a/b/book-shm"), copy] {
        assert_eq!(rights(&file), 0o600, "{}", file.display());
    }
    drop(book);
    fs::set_permissions(&path, fs::Permissions::from_mode(0o664)).unwrap();
    drop(Book::open(&path).unwrap());
    assert_eq!(rights(&path), 0o600);
}

#[test]
fn a_place_that_cannot_be_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "x").unwrap();
    for path in [file.join("book"), folder.path().to_owned()] {
        let e = Book::open(&path).unwrap_err();
        assert!(matches!(e, BookError::Place { .. }), "{e}");
        assert!(e.to_string().contains(&*path.to_string_lossy()) && !e.what_to_do().is_empty());
    }
}

/// Folders under /proc cannot be made by anybody; a folder without the right to write stops all but the superuser.
#[test]
#[cfg(target_os = "linux")]
fn a_read_only_folder_is_named() {
    use std::os::unix::fs::PermissionsExt;
    assert!(matches!(Book::open(Path::new("/proc/shakedown/book")), Err(BookError::Place { .. })));
    let folder = tempfile::tempdir().unwrap();
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(folder.path().join("probe"), "").is_err() {
        assert!(matches!(Book::open(&folder.path().join("book")), Err(BookError::Place { .. })));
    }
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn names_that_the_database_treats_apart_are_files_here() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["file:x?mode=memory", "a b%20c#d", "ü"] {
        let path = folder.path().join(name);
        let book = Book::open(&path).unwrap();
        fill(&book);
        let text = exported(&book);
        drop(book);
        assert!(path.is_file());
        assert_eq!(exported(&Book::open(&path).unwrap()), text);
    }
}

#[test]
fn a_full_disk_is_told_and_loses_only_what_was_not_confirmed() {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::open(&folder.path().join("book")).unwrap();
    let (_, bike) = fill(&book);
    let pages: i64 = book.conn.query_row("PRAGMA page_count", [], |r| r.get(0)).unwrap();
    book.conn.query_row(&format!("PRAGMA max_page_count = {}", pages + 4), [], |_| Ok(())).unwrap();
    let text = "x".repeat(900);
    let mut confirmed = 0;
    let e = loop {
        let entries = vec![NewEntry::words(EntryKind::Note, &text); 3];
        match book.record_visit(Some(bike), None, &entries, &said(T0 + DAY + confirmed)) {
            Ok(_) => confirmed += 1,
            Err(e) => break e,
        }
        assert!(confirmed < 1000);
    };
    assert!(matches!(e, BookError::Full) && e.may_pass(), "{e}");
    book.integrity().unwrap();
    let visits = book.now().visits(bike, 1000).unwrap();
    assert_eq!(visits.len() as i64, confirmed + 1);
    assert!(visits[..confirmed as usize].iter().all(|v| v.entries.len() == 3));
    // With room again it goes on.
    book.conn.query_row("PRAGMA max_page_count = 100000", [], |_| Ok(())).unwrap();
    book.record_visit(Some(bike), None, &[NewEntry::words(EntryKind::Note, &text)], &said(T0)).unwrap();
}

#[test]
fn a_full_disk_undoes_an_outer_writing_whole() {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::open(&folder.path().join("book")).unwrap();
    fill(&book);
    let before = exported(&book);
    let pages: i64 = book.conn.query_row("PRAGMA page_count", [], |r| r.get(0)).unwrap();
    book.conn.query_row(&format!("PRAGMA max_page_count = {}", pages + 4), [], |_| Ok(())).unwrap();
    let e = book.together(|b| (0..1000).try_for_each(|i| b.add_bike(&"x".repeat(900), None, &said(i)).map(|_| ())));
    assert!(matches!(e, Err(BookError::Full)), "{e:?}");
    assert_eq!(exported(&book), before);
    book.integrity().unwrap();
}

#[test]
fn a_copy_is_the_book_at_one_moment() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = Book::open(&path).unwrap();
    fill(&book);
    let copy = folder.path().join("copy");
    book.backup_to(&copy).unwrap();
    let then = exported(&book);
    book.add_rider("Later", &said(T0)).unwrap();
    assert!(!folder.path().join("copy-wal").exists() && !folder.path().join("copy.part").exists());
    let copied = Book::open(&copy).unwrap();
    copied.integrity().unwrap();
    assert_eq!(exported(&copied), then);
    drop(copied);
    // An earlier copy is replaced; the book itself never.
    book.backup_to(&copy).unwrap();
    assert_eq!(exported(&Book::open(&copy).unwrap()), exported(&book));
    assert!(matches!(book.backup_to(&path), Err(BookError::Refused(_))));
    let nowhere = folder.path().join("file/copy");
    fs::write(folder.path().join("file"), "").unwrap();
    assert!(matches!(book.backup_to(&nowhere), Err(BookError::Place { .. })));
    Book::in_memory().unwrap().backup_to(&folder.path().join("empty")).unwrap();
}
