//! A sheet's facts as TOML: blocks as tables, single amounts as plain numbers with their unit in the key.

pub fn facts_as_toml(sheet: &str) -> String {
    let mut out = String::with_capacity(sheet.len());
    let mut path: Vec<String> = Vec::new();
    for line in sheet.lines() {
        let line = line.trim();
        if let Some(heading) = line.strip_suffix(" {") {
            path.push(format!("\"{}\"", heading.replace('"', "")));
            out.push_str(&format!("[{}]\n", path.join(".")));
        } else if line == "}" {
            path.pop();
        } else if line.starts_with('#') || line.is_empty() {
            out.push_str(line);
            out.push('\n');
        } else if let Some((key, value)) = line.split_once(" => ").or_else(|| line.split_once(": ")) {
            out.push_str(&fact(key, value));
        }
    }
    out
}

fn fact(key: &str, value: &str) -> String {
    let key = key.replace(['"', ','], "").replace(' ', "-");
    let (number, unit) = value.split_once(' ').unwrap_or((value, ""));
    if value.starts_with('"') {
        return format!("{key} = {value}\n");
    }
    if number.parse::<f64>().is_ok() && !unit.contains(' ') {
        let unit: String = unit.chars().filter(char::is_ascii_alphanumeric).collect();
        let joiner = if unit.is_empty() { "" } else { "-" };
        return format!("{key}{joiner}{unit} = {number}\n");
    }
    format!("{key} = \"{}\"\n", value.replace('"', "'"))
}
