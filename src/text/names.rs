//! Names within a text.

/// A text with other names in place of those that it has, each where it is as a whole word.
pub fn with_names(text: &str, names: &[(&str, &str)]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let starts = !out.ends_with(char::is_alphanumeric);
        let is_it = |(was, _): &&(&str, &str)| {
            let behind = rest.strip_prefix(was);
            !was.is_empty() && starts && behind.is_some_and(|behind| !behind.starts_with(char::is_alphanumeric))
        };
        match names.iter().find(is_it) {
            Some((was, is)) => {
                out.push_str(is);
                rest = &rest[was.len()..];
            }
            None => {
                out.push(first);
                rest = &rest[first.len_utf8()..];
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::with_names;

    #[test]
    fn a_name_is_replaced_as_a_whole_word() {
        let names = [("back", "rear"), ("lamp delay", "strobe delay")];
        assert_eq!(
            with_names("Plane back, read on backup; lamp delay: 4 deg", &names),
            "Plane rear, read on backup; strobe delay: 4 deg"
        );
    }
}
