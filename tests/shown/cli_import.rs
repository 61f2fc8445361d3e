//! Sheets from a table, as tables are in shops.

use crate::support::cli::{self, BOOK, FAN, Folder};

fn shop() -> Folder {
    let machine = "machine \"soft bench\" {\n  supports: soft\n\n  readout {\n    shows: div\n    full scale: 100 div\n    angles: none\n  }\n}\n";
    Folder::with(&[("book.rotor", BOOK), ("sheets/fan.rotor", FAN), ("machine.rotor", machine)])
}

const TABLE: &str = "Sheet;Rotor;n [rpm];m hub [g];r hub;Remark;Page\n\
    fan A;fan wheel 315;1150;3,00;134.2 mm;\"says \"\"x\"\"\";1\n\
    fan B;fan wheel 315;1150;abc;134.2 mm;;2\n\
    ;fan wheel 315;1150;3.00;134.2 mm;;3\n\
    fan A;fan wheel 315;1150;3.00;134.2 mm;;4\n\
    fan C;fan wheel 315;1150;3,00;134.2 kg;;5\n\
    fan D;fan wheel 315\n\
    fan E;fan wheel 315;980;;0.1205 m;;7\n";

const MAPPING: [&str; 14] = [
    "--column",
    "name=Sheet",
    "--column",
    "rotor=Rotor",
    "--column",
    "balancing speed=n [rpm]",
    "--column",
    "calibrate hub / mass=m hub [g]",
    "--column",
    "calibrate hub / radius=r hub",
    "--column",
    "note=Remark",
    "--set",
    "machine=soft bench",
];

fn import(shop: &Folder, more: &[&str]) -> cli::Ran {
    let arguments = [&["new", "setup", "--from-csv", "old.csv"], &MAPPING[..], more].concat();
    shop.run_with(&arguments)
}

#[test]
fn every_row_of_a_table_is_a_sheet_or_is_said_not_to_be() {
    let shop = shop();
    shop.write("old.csv", TABLE.as_bytes());
    shop.write("setups/keep.txt", b"");
    let ran = import(&shop, &["--decimal-comma", "-o", "setups"]);
    ran.ends(1);
    let said = ran.stderr();
    for part in [
        "line 2 not taken: lines 2 and 5 are all called \"fan A\", and none of them is taken",
        "line 3, left open: `m hub [g]`: `abc`",
        "line 4 not taken: it has no name",
        "line 5 not taken: lines 2 and 5",
        "line 6, left open: `r hub`: `134.2 kg`",
        "line 7 not taken: it has 2 cells where the heads have 7",
        "columns not read: Page",
        "7 rows read, 3 sheets written (setups/fan-b.rotor, setups/fan-c.rotor, setups/fan-e.rotor), 4 rows not taken; 2 cells \
         left open",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let sheet = shop.read("setups/fan-b.rotor");
    for line in [
        "setup \"fan B\" {",
        "  machine: \"soft bench\"",
        "  status: draft",
        "  balancing speed: 1150 rpm # old.csv, line 3, n [rpm]",
        "    mass: ? # old.csv, line 3, m hub [g]: abc",
    ] {
        assert!(sheet.lines().any(|own| own == line), "{line}: {sheet}");
    }
    assert!(shop.read("setups/fan-c.rotor").contains("    mass: 3.00 g # old.csv, line 6, m hub [g]"));
    assert!(!shop.read("setups/fan-e.rotor").contains("mass:"), "an empty cell states nothing");
    shop.run("fmt --check").ends(0);
    // What it wrote once it does not write over.
    let again = import(&shop, &["--decimal-comma", "-o", "setups"]);
    assert!(again.stderr().contains("line 3 not taken: there is a setup \"fan B\" already"), "{}", again.stderr());
    assert_eq!(shop.read("setups/fan-b.rotor"), sheet);
}

#[test]
fn rows_are_named_by_the_lines_of_the_file() {
    let shop = shop();
    let new = |table: &str, more: &[&str]| {
        shop.write("old.csv", table.as_bytes());
        shop.run_with(&[&["new", "setup", "--from-csv", "old.csv", "--column", "name=Sheet"], more].concat())
    };
    let ran = new("Sheet;balancing speed\r\n\r\n\r\nA;abc\r\n\r\nB;980 rpm\r\n", &[]);
    assert!(ran.stderr().contains("line 4, left open: `balancing speed`: `abc`"), "{}", ran.stderr());
    assert!(ran.stderr().contains("2 rows read, 2 sheets written, 0 rows not taken; 1 cell left"), "{}", ran.stderr());
    assert!(ran.stdout().contains("# old.csv, line 6, balancing speed"), "{}", ran.stdout());
    // A quote that is not closed takes in what follows.
    let ran = new("Sheet;note\nA;\"six inches\nB;x\nC;y\n", &[]);
    ran.ends(1);
    let said = "line 2 not taken: a quote is opened and not closed; it takes in all up to line 4";
    assert!(ran.stderr().contains(said), "{}", ran.stderr());
    let ran = new("Sheet;note;by\nA;\"6;x\nB;7\";y;z\nC;y;z\n", &[]);
    assert!(ran.stderr().contains("it takes in lines 2 to 3, so a quote may be left open"), "{}", ran.stderr());
    // A point beside decimal commas is no clearer than a comma beside decimal points.
    let ran = new("Sheet;balancing speed [rpm]\nA;1.150\n", &["--decimal-comma"]);
    ran.ends(1);
    let said = "`1.150` may be 1150 or 1.150: write `1150`, or `1,150` with the comma that --decimal-comma says";
    assert!(ran.stderr().contains(said), "{}", ran.stderr());
}

#[test]
fn what_may_be_read_two_ways_is_not_read() {
    let shop = shop();
    shop.write("old.csv", TABLE.replace("fan C;fan wheel 315;1150;3,00", "fan C;fan wheel 315;1150;3,000").as_bytes());
    let ran = import(&shop, &[]);
    ran.ends(1);
    assert!(ran.stderr().contains("line 6, left open: `m hub [g]`: `3,000` may be 3000 or 3.000"), "{}", ran.stderr());
    assert!(ran.stdout().contains("setup \"fan C\" {") && ran.stdout().contains("# old.csv, line 6, m hub [g]: 3,000"));
}

#[test]
fn a_mapping_that_means_nothing_is_misuse() {
    let shop = shop();
    shop.write("old.csv", TABLE.as_bytes());
    let new = |arguments: &[&str]| shop.run_with(&[&["new", "setup", "--from-csv", "old.csv"], arguments].concat());
    new(&[]).is_misuse("no column says what each item is called");
    new(&["--column", "name=Sheat"]).is_misuse("did you mean `Sheet`?");
    new(&["--column", "name=Sheet", "--column", "ballancing speed=n [rpm]"])
        .is_misuse("did you mean `balancing speed`?");
    new(&["--column", "name=Sheet", "--column", "plane hub / at=r hub"]).is_misuse("a setup has no block `plane hub`");
    new(&["--column", "name=Sheet", "--unit", "balancing speed=rpm"]).is_misuse("which no column holds");
    shop.run_with(&["new", "setup", "--from-csv", "none.csv"]).is_misuse("none.csv");
}

#[test]
fn tolerances_of_a_table_become_rotors() {
    let shop = shop();
    shop.write("old.csv", "name,mass [kg],G,n max\nwheel 1,4.82,6.3,3550\nwheel 2,2.1,2.5,1480\n".as_bytes());
    let ran = shop.run_with(&[
        "new",
        "rotor",
        "--from-csv",
        "old.csv",
        "--column",
        "tolerance / grade=G",
        "--column",
        "highest service speed=n max",
        "--unit",
        "highest service speed=rpm",
    ]);
    ran.ends(0);
    let sheets = ran.stdout();
    assert!(sheets.contains("  mass: 4.82 kg # old.csv, line 2, mass [kg]"), "{sheets}");
    assert!(sheets.contains("    grade: G 6.3 # old.csv, line 2, G"), "{sheets}");
    assert!(sheets.contains("  highest service speed: 1480 rpm # old.csv, line 3, n max"), "{sheets}");
}

/// Semicolons, decimal commas, points between thousands, units in cells, sums, the heading again, and what people scribble.
const AS_SHOPS_HAVE_THEM: &str = "Card;Rotor;Speed [1/min];m hub [g/oz];r hub [mm];m rim [g];Date;By;Note\n\
    A;fan wheel 315;1.150,5;3,00 g;134,2;3000 mg;14.04.2026;fan bay;-\n\
    B;fan wheel 315;1 150;3,0;13,42cm;-;2026-04-14;-;ca. 4,8 g was tried\n\
    C;fan wheel 315;415-420;0,1 oz;n/a;ca. 3;04/05/2026;day shift;\n\
    ;;;;;;;;\n\
    -;-;-;-;-;-;-;-;-\n\
    Card;Rotor;Speed [1/min];m hub [g/oz];r hub [mm];m rim [g];Date;By;Note\n\
    D;fan wheel 315;1160;5,00 g;166;5;2026-03-02;day shift;\n\
    D;fan wheel 315;1160;6,00 g;166;5;2026-05-02;day shift;later\n\
    TOTAL;4;4.610;17,00;;;;;\n\
    Mittelwert:;;1150;;;;;;\n";

#[test]
fn a_row_is_taken_as_far_as_it_can_be_read_and_what_is_left_is_said_cell_by_cell() {
    let shop = shop();
    shop.write("old.csv", AS_SHOPS_HAVE_THEM.as_bytes());
    let columns = [
        "name=Card",
        "rotor=Rotor",
        "balancing speed=Speed [1/min]",
        "calibrate hub / mass=m hub [g/oz]",
        "calibrate hub / radius=r hub [mm]",
        "calibrate rim / mass=m rim [g]",
        "date=Date",
        "by=By",
        "note=Note",
    ];
    let mut arguments = vec!["new", "setup", "--from-csv", "old.csv", "--decimal-comma", "-o", "deep/setups"];
    columns.iter().for_each(|column| arguments.extend(["--column", *column]));
    arguments.extend(["--set", "machine=soft bench", "--set", "calibrate rim / radius=141.0 mm"]);
    let ran = shop.run_with(&arguments);
    ran.ends(1);
    let said = ran.stderr();
    for part in [
        "line 3, left open: `m hub [g/oz]`: `3,0` is in g or oz",
        "line 4, left open: `Speed [1/min]`: `415-420 1/min`",
        "line 4, left open: `m rim [g]`: `ca. 3`",
        "line 4, left open: `Date`: `04/05/2026`",
        "line 6 is not a sheet: blank",
        "line 7 is not a sheet: the heading again",
        "line 8 not taken: lines 8 and 9 are all called \"D\"",
        "line 9 not taken: lines 8 and 9 are all called \"D\"",
        "line 10 is not a sheet: a sum, by its name \"TOTAL\"",
        "line 11 is not a sheet: a sum, by its name \"Mittelwert:\"",
        "9 rows read, 3 sheets written (deep/setups/a.rotor, deep/setups/b.rotor, deep/setups/c.rotor), 2 rows not taken, 4 not \
         sheets; 4 cells left open",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let (a, b, c) =
        (shop.read("deep/setups/a.rotor"), shop.read("deep/setups/b.rotor"), shop.read("deep/setups/c.rotor"));
    for (sheet, line) in [
        (&a, "  balancing speed: 1150.5 1/min # old.csv, line 2, Speed [1/min]"),
        (&a, "    mass: 3.00 g # old.csv, line 2, m hub [g/oz]"),
        (&a, "    radius: 134.2 mm # old.csv, line 2, r hub [mm]"),
        (&a, "    mass: 3000 mg # old.csv, line 2, m rim [g]"),
        (&a, "    radius: 141.0 mm"),
        (&a, "  date: 2026-04-14 # old.csv, line 2, Date"),
        (&b, "  balancing speed: 1150 1/min # old.csv, line 3, Speed [1/min]"),
        (&b, "    radius: 13.42 cm # old.csv, line 3, r hub [mm]"),
        (&b, "    mass: ? # old.csv, line 3, m hub [g/oz]: 3,0"),
        (&b, "  note: \"ca. 4,8 g was tried\" # old.csv, line 3, Note"),
        (&c, "    mass: 0.1 oz # old.csv, line 4, m hub [g/oz]"),
        (&c, "  balancing speed: ? # old.csv, line 4, Speed [1/min]: 415-420"),
    ] {
        assert!(sheet.lines().any(|own| own == line), "{line}: {sheet}");
    }
    assert!(!a.contains("note:") && !b.contains("by:"), "a stroke is blank");
    shop.run("fmt --check").ends(0);
}

#[test]
fn a_table_that_is_not_utf_8_is_read_and_says_so() {
    let shop = shop();
    shop.write("old.csv", b"Blatt;mass [g];note\nL\xfcfter 1;4.8;Fl\xfcgel \x96 gerade\n");
    let ran = shop.run_with(&["new", "rotor", "--from-csv", "old.csv", "--column", "name=Blatt"]);
    assert!(ran.stderr().contains("it is not UTF-8, and is read as Windows-1252"), "{}", ran.stderr());
    assert!(
        ran.stdout().contains("rotor \"Lüfter 1\"") && ran.stdout().contains("\"Flügel – gerade\""),
        "{}",
        ran.stdout()
    );
}

#[test]
fn facts_are_set_by_their_paths_with_a_table_and_without() {
    let shop = shop();
    let sets = [
        "calibrate hub / mass=3.00 g",
        "settings / left strength=212",
        "proof 2026-04-14 / separation hub / mass=1.50 g",
        "proof 2026-04-14 / date=2026-04-14",
    ];
    let mut arguments = vec!["new", "setup", "--name", "a"];
    sets.iter().for_each(|set| arguments.extend(["--set", *set]));
    let sheet = shop.run_with(&arguments).ends(0).stdout();
    for line in ["    mass: 3.00 g", "    \"left strength\": 212", "    separation hub {", "      mass: 1.50 g"] {
        assert!(sheet.lines().any(|own| own == line), "{line}: {sheet}");
    }
    shop.run_with(&["new", "setup", "--set", "plane hub / at=3 mm"]).is_misuse("a setup has no block `plane hub`");
    shop.write("old.csv", b"name\na\n");
    let wrong = ["new", "setup", "--from-csv", "old.csv", "--set", "calibrate hub / mass=3 mm"];
    shop.run_with(&wrong).is_misuse("--set `calibrate hub / mass`");
}

#[test]
fn a_second_column_of_one_fact_is_the_next_value_of_a_list_or_misuse() {
    let shop = shop();
    shop.write(
        "old.csv",
        b"name,mass [kg],A [mm],B [mm],d1,d2\nfan X,4.82,0,164,note 7,note 8\nfan Y,4.82,0,,note 7,\n",
    );
    let new = |columns: &[&str]| {
        let mut arguments = vec!["new", "rotor", "--from-csv", "old.csv"];
        columns.iter().for_each(|column| arguments.extend(["--column", *column]));
        shop.run_with(&arguments)
    };
    let ran = new(&["bearings=A [mm]", "bearings=B [mm]"]);
    ran.ends(1);
    let sheets = ran.stdout();
    assert!(sheets.contains("  bearings: 0 mm, 164 mm # old.csv, line 2, A [mm] and B [mm]\n"), "{sheets}");
    assert!(ran.stderr().contains("line 3, left open: `A [mm] and B [mm]`: `B [mm]` says nothing"), "{}", ran.stderr());
    new(&["drawing=d1", "drawing=d2"]).is_misuse("`drawing` is one value, and `d1`, `d2` both give it");
    new(&["mass=A [mm]", "mass=mass [kg]"]).is_misuse("`mass` is one value");
}

#[test]
fn a_cell_that_contradicts_its_heading_or_says_nothing_is_listed() {
    let shop = shop();
    shop.write("old.csv", b"name,mass [kg],height (mm),drawing\nA,4.82,8 in,-\nB,10 lb,80,n/a\nC,482 g,8 cm,7\n");
    let ran = shop.run_with(&["new", "rotor", "--from-csv", "old.csv", "--column", "largest diameter=height (mm)"]);
    ran.ends(1);
    let said = ran.stderr();
    for part in [
        "line 2, left open: `height (mm)`: `8 in` is not in mm, as the heading says",
        "line 3, left open: `mass [kg]`: `10 lb` is not in kg, as the heading says",
        "line 2, not taken: `drawing`: `-`",
        "line 3, not taken: `drawing`: `n/a`",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    // A multiple by ten is no slip, and what the command line says is of bare numbers alone.
    assert!(ran.stdout().contains("  mass: 482 g #") && ran.stdout().contains(": 8 cm #"), "{}", ran.stdout());
    let more = ["--column", "mass=m", "--unit", "mass=kg"];
    shop.write("old.csv", b"name,m\nA,10 lb\nB,4.82\n");
    let ran = shop.run_with(&[&["new", "rotor", "--from-csv", "old.csv"], &more[..]].concat());
    assert!(ran.stdout().contains("mass: 10 lb #") && ran.stdout().contains("mass: 4.82 kg #"), "{}", ran.stdout());
}

#[test]
fn the_headings_may_come_after_a_title() {
    let shop = shop();
    shop.write("old.csv", b"Cards of hall 2;;;\n\nSheet;Rotor;n [rpm]\nfan A;fan wheel 315;1150\n");
    let columns = ["--column", "name=Sheet", "--column", "rotor=Rotor", "--column", "balancing speed=n [rpm]"];
    let arguments = [&["new", "setup", "--from-csv", "old.csv", "--set", "machine=soft bench"], &columns[..]].concat();
    let ran = shop.run_with(&arguments);
    assert!(ran.stderr().contains("line 1 is not a sheet: it comes before the headings"), "{}", ran.stderr());
    let text = ran.ends(0).stdout();
    assert!(text.contains("setup \"fan A\"") && text.contains("line 4"), "{text}");
}

#[test]
fn names_that_differ_in_capitals_are_files_of_their_own() {
    let shop = shop();
    shop.write("old.csv", b"name;rotor;balancing speed [rpm]\nA1;fan wheel 315;1150\na1;fan wheel 315;1200\n");
    let ran = shop.run_with(&["new", "setup", "--from-csv", "old.csv", "--set", "machine=soft bench", "-o", "setups"]);
    let said = ran.ends(0).stderr();
    assert!(said.contains("\"a1\" is written to `setups/a1-2.rotor`: another row has that name for a file"), "{said}");
    assert!(shop.read("setups/a1.rotor").contains("\"A1\"") && shop.read("setups/a1-2.rotor").contains("\"a1\""));
}

// No group of thousands has one digit or two.
#[test]
fn a_comma_that_cannot_be_between_thousands_is_a_decimal_comma() {
    let shop = shop();
    shop.write("t.csv", "Nr;Masse;n\nA 1;12,8;1450\nA 2;4,1;1450\nA 3;1,150;1450\n".as_bytes());
    let ran = shop.run_with(&[
        "new",
        "rotor",
        "--from-csv",
        "t.csv",
        "--column",
        "name=Nr",
        "--column",
        "mass=Masse",
        "--unit",
        "mass=kg",
        "-o",
        "i",
    ]);
    let text = |name: &str| shop.read(&format!("i/{name}.rotor"));
    assert!(text("a-1").contains("  mass: 12.8 kg") && text("a-2").contains("  mass: 4.1 kg"), "{}", text("a-1"));
    // The others of its column have decimal commas.
    assert!(text("a-3").contains("  mass: 1.150 kg"), "{}", text("a-3"));
    assert!(ran.stderr().contains("`Masse` has decimal commas, by `12,8` in line 2"), "{}", ran.stderr());
}

#[test]
fn a_reading_may_have_a_column_for_its_amount_and_one_for_its_angle() {
    let shop = shop();
    shop.write("r.csv", "S/N,L (deg),L (g),R (g),R (deg)\nS-1,200,1.92,0.82,309\nS-2,,1.10,0.40,12\n".as_bytes());
    let columns = [
        "name=S/N",
        "run as found / reading left=L (deg)",
        "run as found / reading left=L (g)",
        "run as found / reading right=R (g)",
        "run as found / reading right=R (deg)",
    ];
    let mut arguments = vec!["new", "record", "--from-csv", "r.csv", "--set", "setup=fan", "-o", "j"];
    arguments.extend(columns.iter().flat_map(|column| ["--column", *column]));
    shop.run_with(&arguments);
    let text = shop.read("j/s-1.rotor");
    assert!(
        text.contains("reading left: 1.92 g @ 200 deg") && text.contains("reading right: 0.82 g @ 309 deg"),
        "{text}"
    );
    let text = shop.read("j/s-2.rotor");
    assert!(text.contains("reading left: 1.10 g #") && text.contains("reading right: 0.40 g @ 12 deg"), "{text}");
    // Two amounts are two values.
    let amounts = [
        "--column",
        "name=S/N",
        "--column",
        "run as found / reading left=L (g)",
        "--column",
        "run as found / reading left=R (g)",
    ];
    let two = shop
        .run_with(&[&["new", "record", "--from-csv", "r.csv", "--set", "setup=fan", "-o", "k"], &amounts[..]].concat());
    two.is_misuse("`reading left` is one value");
}

// 1150 rpm or 1.150 rpm: the other numbers of the column tell, or nothing does.
#[test]
fn a_column_tells_which_sign_its_decimals_have() {
    let shop = shop();
    let new = |cells: [&str; 3], more: &[&str]| {
        let table = format!("name;balancing speed [rpm]\nA;{}\nB;{}\nC;{}\n", cells[0], cells[1], cells[2]);
        shop.write("old.csv", table.as_bytes());
        let ran = shop.run_with(&[&["new", "setup", "--from-csv", "old.csv"], more].concat());
        let speed = |line: &str| line.trim_start().strip_prefix("balancing speed: ").map(str::to_owned);
        let speeds: Vec<String> = ran.stdout().lines().filter_map(speed).collect();
        let plain = |speed: &String| speed.split(" #").next().unwrap_or_default().to_owned();
        (speeds.iter().map(plain).collect::<Vec<_>>(), ran.stderr())
    };
    let (speeds, said) = new(["1149,5", "1.150", "980"], &[]);
    assert_eq!(speeds, ["1149.5 rpm", "?", "980 rpm"]);
    for part in [
        "`balancing speed [rpm]` has decimal commas, by `1149,5` in line 2",
        "line 3, left open: `balancing speed [rpm]`: `1.150` may be 1150 or 1.150, as `1149,5` in line 2 has a decimal comma: \
         write `1150` or `1,150`",
    ] {
        assert!(said.contains(part), "{said}");
    }
    // The sign of the decimals says what three digits after it are.
    assert_eq!(new(["1149,5", "1,150", "980"], &[]).0, ["1149.5 rpm", "1.150 rpm", "980 rpm"]);
    assert_eq!(new(["1149.5", "1.150", "980"], &[]).0, ["1149.5 rpm", "1.150 rpm", "980 rpm"]);
    let (speeds, said) = new(["1.150", "1.149", "980"], &[]);
    assert_eq!(speeds, ["?", "?", "980 rpm"]);
    let part = "`1.150` may be 1150 or 1.150, and no other number of its column tells which: write `1150`, or say --decimal-point";
    assert!(said.contains(part), "{said}");
    assert_eq!(new(["1.150", "1.149", "980"], &["--decimal-point"]).0, ["1.150 rpm", "1.149 rpm", "980 rpm"]);
}
