use rotorbook::syntax::{outline, parse};
#[test]
fn show() {
    for line in std::fs::read_to_string(std::env::var("ROWS").unwrap()).unwrap().lines() {
        let line = line.replace("\\n", "\n");
        let tree = parse(&line);
        println!("{line}\n{}", outline(&line, &tree, &|u: &str| format!("[{u}]")).lines().map(|l| format!("      | {l}\n")).collect::<String>());
    }
}
#[test]
fn values() {
    for line in std::fs::read_to_string(std::env::var("ROWS").unwrap()).unwrap().lines() {
        let line = format!("k: {line}");
        let mut tree = parse(&line);
        tree.errors.retain(|e| e.kind != rotorbook::syntax::SyntaxErrorKind::FactOutsideBlock);
        println!("{line:40}\n{}", outline(&line, &tree, &|u: &str| format!("[{u}]")).lines().map(|l| format!("      | {l}\n")).collect::<String>());
    }
}
