//! `release` and `withdraw`: what they write, what they refuse, and what the hooks say to it.

use std::path::Path;

use crate::support::git::{self, Repo};

const SETUP: &str = "setups/fan-wheel-315.rotor";
const NAME: &str = "fan wheel 315 on the soft bench";

#[test]
fn a_release_raises_the_revision_and_tells_what_the_card_says_otherwise() {
    let repo = Repo::with_shop("");
    repo.edit(SETUP, "    within: 5 %", "    within: 4 %");
    let before = repo.read(SETUP);
    let ran = repo.run(&["release", NAME, "--dry-run"]).ends(0);
    assert_eq!(repo.read(SETUP), before);
    assert!(ran.stdout.contains("11.6 to 12.6 div") && ran.stderr.contains("revision \"D\""), "{}", ran.stdout);
    repo.run(&["release", NAME, "--by", "the \"fan\" bay"]).ends(0);
    let text = repo.read(SETUP);
    assert!(text.contains("  status: released\n  revision: \"D\"\n  by: \"the \"\"fan\"\" bay\"\n"), "{text}");
    assert_eq!(repo.alerts(&[]), ["sheet-released setup"]);
    repo.run(&["fmt", "--check"]).ends(0);
}

/// No card A was ever printed of a draft at A: the first one is that, and the next is B.
#[test]
fn the_first_release_takes_the_revision_of_its_draft() {
    let repo = Repo::new();
    let sheet =
        |text: &str| text.replace("  status: released\n  revision: \"C\"", "  status: draft\n  revision: \"A\"");
    for (path, text) in git::shop() {
        repo.write(path, &sheet(text));
    }
    repo.commit("drafts");
    repo.run(&["release", NAME, "--by", "fan bay"]).ends(0);
    assert!(repo.read(SETUP).contains("  status: released\n  revision: \"A\"\n"), "{}", repo.read(SETUP));
    repo.commit("released");
    repo.run(&["release", NAME, "--by", "fan bay"]).ends(0);
    assert!(repo.read(SETUP).contains("  status: released\n  revision: \"B\"\n"), "{}", repo.read(SETUP));
}

#[test]
fn what_may_not_be_worked_by_is_not_released() {
    let repo = Repo::with_shop("");
    for (old, new, code) in [
        ("\n  balancing speed: 1150 rpm", "\n  balancing speed: 1100 rpm", "calibration-void"),
        ("  pulley: 80 mm\n", "  pulley: ?\n", "not-known"),
        (
            "reading right: 0.5 div @ 300 deg",
            "reading right: 3.5 div @ 300 deg",
            "the sheet is released, but its proof fails",
        ),
    ] {
        repo.edit(SETUP, old, new);
        let before = repo.read(SETUP);
        let ran = repo.run(&["release", NAME]).ends(1);
        assert!(ran.stdout.contains(code), "{code}: {}", ran.stdout);
        assert_eq!(repo.read(SETUP), before);
        repo.git("checkout -q -- .");
    }
    repo.edit(SETUP, "  by: \"fan bay\"\n  date", "  date");
    repo.run(&["release", NAME]).is_misuse("nobody is named as releasing the sheet");
    repo.edit(SETUP, "  revision: \"C\"\n", "");
    repo.run(&["release", NAME, "--by", "fan bay"]).ends(0);
    let text = repo.read(SETUP);
    // A sheet that says no revision goes on from the one that was released.
    assert!(text.contains("  status: released\n  revision: \"D\"\n  by: \"fan bay\"\n"), "{text}");
    repo.run(&["release", "nothing of the kind"]).is_misuse("has no setup");
}

fn commit(repo: &Repo, arguments: &[&str]) -> (i32, String) {
    let program = Path::new(env!("CARGO_BIN_EXE_rotorbook")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let all = [&["commit", "-m", "a try"], arguments].concat();
    let output = git::git(repo.top()).env("PATH", path).args(all).output().unwrap();
    (output.status.code().unwrap(), String::from_utf8([output.stdout, output.stderr].concat()).unwrap())
}

#[test]
fn a_service_is_never_refused_and_a_withdrawal_settles_what_it_voids() {
    let repo = Repo::with_shop("");
    repo.run(&["init", "--ci", "none"]).ends(0);
    repo.commit("prepared");
    repo.edit("machines/soft-bench.rotor", "  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-07-01\n");
    let (code, said) = commit(&repo, &["-a"]);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("calibration"), "what becomes void is told: {said}");
    // The check as a whole goes on saying it.
    repo.run(&["check"]).ends(1);
    // A remark in the sheet is not refused for what was void before.
    repo.edit(SETUP, "  indicates", "  # As the lamp shows it.\n  indicates");
    let (code, said) = commit(&repo, &["-a"]);
    assert_eq!(code, 0, "{said}");
    repo.run(&["withdraw", "--void"]).ends(0);
    assert!(repo.read(SETUP).contains("  status: withdrawn\n"));
    assert_eq!(repo.alerts(&[]), ["release-withdrawn setup"]);
    let (code, said) = commit(&repo, &["-a"]);
    assert_eq!(code, 0, "{said}");
    let again = repo.run(&["withdraw", NAME]).ends(0);
    assert!(again.stderr.contains("withdrawn already"), "{}", again.stderr);
}

#[test]
fn the_hooks_look_at_what_every_kind_of_commit_adds() {
    let repo = Repo::with_shop("sheets, µ");
    repo.run(&["init", "--ci", "none"]).ends(0);
    repo.commit("prepared");
    // Some paths alone: the other change, which is wrong, is not of this commit.
    repo.edit("masses.rotor", "masses \"brass set\"", "# As counted.\nmasses \"brass set\"");
    repo.edit(SETUP, "=> 8.60 div", "=> 9.60 div");
    let (code, said) = commit(&repo, &["--", "sheets, µ/masses.rotor"]);
    assert_eq!(code, 0, "{said}");
    let (code, said) = commit(&repo, &["--", "sheets, µ/setups/fan-wheel-315.rotor"]);
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("--no-verify") && said.contains("9.60 div"), "{said}");
    repo.git("checkout -q -- .");
    // Amended.
    repo.edit(SETUP, "=> 8.60 div", "=> 9.60 div");
    assert_eq!(commit(&repo, &["-a", "--amend"]).0, 1);
    repo.git("checkout -q -- .");
    // Two changes that are right by themselves, and not together.
    repo.git("checkout -q -b side");
    let rotor = repo.read("rotors/fan-wheel-315.rotor").replace("plane rim {", "plane lip {");
    repo.write("rotors/fan-wheel-315.rotor", &rotor);
    repo.write(SETUP, &repo.read(SETUP).replace("rim", "lip"));
    repo.commit("the rim is called lip");
    repo.git("checkout -q main");
    let record = "record \"one\" {\n  setup: \"fan wheel 315 on the soft bench\"\n\n  correction rim {\n    add: 1.0 g\n    angle: 30 deg\n  }\n}\n";
    repo.write("records/one.rotor", record);
    repo.commit("a record");
    let program = Path::new(env!("CARGO_BIN_EXE_rotorbook")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let output = git::git(repo.top()).env("PATH", path).args(["merge", "--no-edit", "side"]).output().unwrap();
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    assert!(!output.status.success() && said.contains("records/one.rotor"), "{said}");
}

#[test]
fn a_release_is_compared_with_the_one_before_it_whichever_commit_had_that_last() {
    let repo = Repo::with_shop("");
    let released = repo.git("rev-parse --short HEAD").trim().to_owned();
    repo.edit(SETUP, "status: released", "status: draft");
    repo.commit("to be changed");
    repo.edit(SETUP, "    within: 5 %", "    within: 4 %");
    repo.commit("narrower");
    let ran = repo.run(&["release", NAME, "--dry-run"]).ends(0);
    assert!(ran.stdout.contains("11.6 to 12.6 div"), "{}", ran.stdout);
    let against = format!("Compared with revision \"C\", as commit {released} has it.");
    assert!(ran.stdout.contains(&against), "{}", ran.stdout);
    // The same once more, with the item called otherwise since.
    repo.edit(SETUP, &format!("setup \"{NAME}\""), "setup \"fan wheel 315, soft\"");
    repo.commit("another name");
    let ran = repo.run(&["release", "fan wheel 315, soft", "--dry-run"]).ends(0);
    assert!(ran.stdout.contains(&against), "{}", ran.stdout);
}

#[test]
fn revisions_that_paper_does_not_tell_apart_are_one() {
    let repo = Repo::with_tern_quay();
    let (spindle, sheet) = ("grinding spindle 30 on the stiff bench", "setups/grinding-spindle-30-stiff-bench.rotor");
    for (revision, why) in [
        ("", "is not a revision"),
        (" E", "is not a revision"),
        ("d", "released before under revision \"D\""),
        ("c", "is earlier than the last one released, \"D\""),
        // The card has the word already, and paper shows no width of letters.
        ("rev E", "give it as a card writes it: --revision E"),
        ("\u{ff25}", "give it as a card writes it: --revision E"),
        ("\u{415}", "give letters A to Z or digits"),
        ("E\n", "give it as a card writes it: --revision E"),
    ] {
        repo.run(&["release", spindle, "--revision", revision, "--dry-run"]).is_misuse(why);
    }
    for (revision, code, says) in [
        ("", "released-without-revision", "it has no revision"),
        ("d", "revision-goes-back", "on paper, revision \"d\" cannot be told from \"D\""),
        (" D", "revision-goes-back", "on paper, revision \" D\" cannot be told from \"D\""),
        ("rev D", "revision-goes-back", "on paper, revision \"rev D\" cannot be told from \"D\""),
        ("\u{ff24}", "revision-goes-back", "on paper, revision \"\u{ff24}\" cannot be told from \"D\""),
    ] {
        repo.edit(sheet, "revision: \"D\"", &format!("revision: \"{revision}\""));
        let said = repo.run(&["check", "--since", "HEAD"]).stdout;
        assert!(said.contains(code) && said.contains(says), "{revision:?}: {said}");
        repo.git("checkout -q -- .");
    }
    // A commit that lost the revision released nothing: what comes is compared with D, and is E.
    repo.edit(sheet, "  revision: \"D\"\n", "");
    repo.commit("without a revision");
    let ran = repo.run(&["release", spindle, "--dry-run"]).ends(0);
    assert!(ran.stderr.contains("would be released as revision \"E\""), "{}", ran.stderr);
    // A card of revision Z has never been.
    repo.edit("records/blower-41.rotor", "revision: \"A\"", "revision: \"Z\"");
    let said = repo.run(&["check", "--since", "HEAD"]).stdout;
    assert!(said.contains("it was run by revision Z, and the sheet is only at revision A"), "{said}");
}

#[test]
fn no_revision_is_used_again_or_goes_back() {
    let repo = Repo::with_shop("");
    repo.run(&["release", NAME, "--revision", "C"]).is_misuse("released before under revision \"C\", as commit ");
    repo.run(&["release", NAME, "--revision", "B"]).is_misuse("is earlier than the last one released, \"C\"");
    repo.run(&["release", NAME, "--revision", "E"]).ends(0);
    repo.commit("released");
    // A sheet that went back by hand is told, and goes on from where it was.
    repo.edit(SETUP, "revision: \"E\"", "revision: \"B\"");
    let text = repo.run(&["diff"]).ends(0).stdout;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("revision goes back: setup \"fan wheel 315 on the soft bench\": revision \"B\", was \"E\""),
        "{text}"
    );
    let said = repo.run(&["check", "--since", "HEAD", "--brief"]).ends(1).stdout;
    assert!(said.contains("revision-goes-back") && said.contains("from \"E\" to \"B\""), "{said}");
    repo.edit(SETUP, "status: released", "status: draft");
    repo.commit("a draft again");
    let ran = repo.run(&["release", NAME, "--dry-run"]).ends(0);
    assert!(ran.stderr.contains("would be released as revision \"F\""), "{}", ran.stderr);
    repo.run(&["release", NAME, "--revision", "C"]).is_misuse("released before");
}

#[test]
fn a_sheet_whose_proof_was_rewritten_is_not_released() {
    let repo = Repo::with_shop("");
    let is_refused = |repo: &Repo| {
        let ran = repo.run(&["release", NAME]).ends(1);
        assert!(ran.stdout.contains("proof-rewritten"), "{}", ran.stdout);
    };
    repo.edit(SETUP, "date: 2026-04-14\n    by", "date: 2026-05-20\n    by");
    is_refused(&repo);
    // A commit in between makes no new proof of it.
    repo.commit("another day");
    is_refused(&repo);
}

/// What is at the machine was printed at the release, whatever was changed under the same revision since.
#[test]
fn a_release_is_compared_with_what_was_printed() {
    let repo = Repo::with_shop("");
    let released = repo.git("rev-parse --short HEAD").trim().to_owned();
    repo.edit(SETUP, "    within: 5 %", "    within: 4 %");
    repo.commit("narrower under the same revision");
    repo.edit("book.rotor", "shop \"", "# As on the sign.\nshop \"");
    repo.commit("a remark");
    let said = repo.run(&["release", NAME, "--dry-run"]).ends(0).stdout;
    assert!(said.contains("11.6 to 12.6 div"), "{said}");
    assert!(said.contains(&format!("Compared with revision \"C\", as commit {released} has it.")), "{said}");
    assert!(said.contains("The card has changed since then, still under revision \"C\""), "{said}");
    // What is as it was printed is the same again.
    repo.edit(SETUP, "    within: 4 %", "    within: 5 %");
    repo.commit("as it was");
    let said = repo.run(&["release", NAME, "--dry-run"]).ends(0).stdout;
    assert!(said.contains("Its card is the same for the technician") && !said.contains("since"), "{said}");
}

/// A comparison, the check of a change and a release say the same of a proof that reads otherwise under its date.
#[test]
fn a_proof_with_other_readings_under_one_date_is_rewritten() {
    let repo = Repo::with_shop("");
    let hook = |repo: &Repo| repo.run(&["check", "--since", "HEAD", "--brief"]).stdout;
    let is_told = |repo: &Repo| {
        assert!(repo.alerts(&[]).contains(&"proof-rewritten setup".to_owned()), "{:?}", repo.alerts(&[]));
        let said = hook(repo);
        assert!(said.contains("proof-rewritten") && said.contains("than before what was read ("), "{said}");
        let ran = repo.run(&["release", NAME]).ends(1);
        assert!(ran.stdout.contains("proof-rewritten"), "{}", ran.stdout);
    };
    let before = repo.read(SETUP);
    for (old, new) in [
        (
            "0.5 div @ 105 deg, 0.5 div @ 115 deg, 0.6 div @ 110 deg",
            "0.5 div @ 110 deg, 0.5 div @ 110 deg, 0.5 div @ 110 deg",
        ),
        ("reading right: 6.2 div @ 355 deg", "reading right: 6.2 div @ 0 deg"),
        ("      mass: 1.50 g\n      radius: 134.2 mm", "      mass: 1.55 g\n      radius: 134.2 mm"),
    ] {
        repo.edit(SETUP, old, new);
        is_told(&repo);
        // Another name makes no other proof of it.
        repo.write(SETUP, &repo.read(SETUP).replace("proof \"2026-04-14\"", "proof \"april\""));
        is_told(&repo);
        repo.write(SETUP, &before);
    }
    // Who made it and in which unit it is written is no reading of it.
    repo.edit(SETUP, "    date: 2026-04-14\n    by: \"fan bay\"", "    date: 2026-04-14\n    by: \"the fan bay\"");
    repo.edit(SETUP, "      mass: 1.50 g\n      radius: 134.2 mm", "      mass: 1500 mg\n      radius: 13.42 cm");
    assert!(!hook(&repo).contains("proof-rewritten"), "{}", hook(&repo));
    assert!(!repo.alerts(&[]).contains(&"proof-rewritten setup".to_owned()));
}

#[test]
fn whoever_releases_a_void_sheet_by_hand_is_told() {
    let repo = Repo::with_shop("");
    repo.edit("machines/soft-bench.rotor", "  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-07-01\n");
    repo.commit("serviced");
    repo.edit(SETUP, "revision: \"C\"", "revision: \"D\"");
    let says_so = |repo: &Repo, revision: &str| {
        let text = repo.run(&["diff"]).ends(0).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&format!("revision {revision}, while its calibration is void")), "{text}");
        let said = repo.run(&["check", "--since", "HEAD", "--brief"]).ends(1).stdout;
        assert!(said.contains("calibration-void"), "{said}");
    };
    says_so(&repo, "\"D\", was \"C\"");
    // A draft may be void, and be released so.
    repo.edit(SETUP, "status: released", "status: draft");
    repo.commit("a draft");
    repo.edit(SETUP, "status: draft", "status: released");
    says_so(&repo, "\"D\"");
}

/// What is said on the command line becomes a line of a sheet.
#[test]
fn a_text_that_no_sheet_can_hold_is_refused() {
    let repo = Repo::with_shop("");
    for (option, command) in [
        ("--by", vec!["release", NAME]),
        ("--by", vec!["prove", NAME]),
        ("--by", vec!["balance", NAME]),
        ("--serial", vec!["balance", NAME]),
        ("--customer", vec!["balance", NAME]),
        ("--order", vec!["balance", NAME]),
    ] {
        for (text, why) in
            [("", "it says nothing"), ("  ", "it says nothing"), ("a\nb", "U+000A"), ("a\u{202e}b", "U+202E")]
        {
            let ran = repo.run(&[&command[..], &[option, text]].concat());
            assert!(ran.code == 2 && ran.stderr.contains(why), "{option} {text:?}: {}", ran.stderr);
        }
    }
    assert_eq!(repo.git("status --short"), "");
}

/// One word for a sheet, wherever it is said: what its card is stamped with.
#[test]
fn lists_say_of_a_sheet_what_its_card_is_stamped_with() {
    let repo = Repo::with_tern_quay();
    let told = |repo: &Repo, name: &str| {
        let document = repo.json(&["overview"]);
        let one = document["setups"].as_array().unwrap().iter().find(|one| one["setup"] == name).unwrap().clone();
        let listed = repo.json(&["list", "--kind", "setup"]);
        let item = listed["items"].as_array().unwrap().iter().find(|item| item["name"] == name).unwrap().clone();
        let headline = item["headline"].as_str().unwrap().to_owned();
        let card = repo.run(&["card", name, "--run"]).stdout;
        let stamp = one["stamp"]["word"].as_str().unwrap().to_owned();
        assert!(card.contains(&stamp) && headline.starts_with(&stamp), "{stamp}: {headline}");
        (stamp, one["status"].as_str().unwrap().to_owned(), repo.run(&["overview"]).stdout)
    };
    let (stamp, _, _) = told(&repo, NAME);
    assert_eq!(stamp, "RELEASED C");
    let sheet = "setups/fan-wheel-315-soft-bench.rotor";
    // An error in a sheet that it rests on.
    repo.edit("masses.rotor", "masses \"brass set\" {", "masses \"brass\" {");
    repo.commit("another name for the masses");
    let (stamp, status, text) = told(&repo, NAME);
    assert_eq!((&*stamp, &*status), ("NOT TO BE USED", "released"));
    assert!(text.contains("revision C: the sheet has errors"), "{text}");
    repo.git("revert --no-edit HEAD");
    repo.edit(sheet, "status: released", "status: withdrawn");
    repo.commit("withdrawn");
    assert_eq!(told(&repo, NAME).0, "NOT TO BE USED");
    repo.edit(sheet, "status: withdrawn", "status: released");
    assert_eq!(told(&repo, NAME).0, "DRAFT");
    // A record's verdict is no verdict where its sheets have errors.
    repo.git("checkout -q -- .");
    repo.edit("records/fan-wheel-315.rotor", "proof: \"2026-04-14\"", "proof: \"2026-04-15\"");
    repo.commit("a proof that is not there");
    let record = "fan wheel 315, 26-0419";
    let listed = repo.json(&["list", "--kind", "record"]);
    let items = listed["items"].as_array().unwrap();
    let headline = items.iter().find(|item| item["name"] == record).unwrap()["headline"].as_str().unwrap();
    assert!(headline.ends_with("NOT TO BE USED"), "{headline}");
    let certificate = repo.run(&["certificate", record, "fan wheel 400, 26-0077"]).stdout;
    let verdicts = certificate.lines().filter(|line| line.trim_start().starts_with("Verdict"));
    assert!(verdicts.eq(["    Verdict      : NOT TO BE USED", "    Verdict      : over as read"]), "{certificate}");
    let count =
        |label: &str| certificate.lines().find_map(|line| line.trim_start().strip_prefix(label)?.rsplit_once(": "));
    assert_eq!(count("within ").map(|count| count.1), Some("0"), "{certificate}");
    assert_eq!(count("without a verdict").map(|count| count.1), Some("1"), "{certificate}");
}

/// What a record was judged by is on paper that a customer gets; what the sheet came to say later is not.
#[test]
fn a_certificate_has_the_limits_and_the_revision_of_its_day() {
    let repo = Repo::with_tern_quay();
    let certificate = || {
        let ran = repo.run(&["certificate", "fan wheel 315, 26-0419"]).ends(0);
        ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let before = certificate();
    assert!(before.contains("Grade : G 6.3") && before.contains("*** WITHIN *** its tolerance"), "{before}");
    // Its proof keeps no revision, and it states none.
    assert!(!before.contains("Revision : "), "{before}");
    repo.edit("rotors/fan-wheel-315.rotor", "grade: G 6.3", "grade: G 2.5");
    let after = certificate();
    let kept = "As kept by proof \"2026-04-14\"; the sheet of today sets other limits.";
    assert!(after.contains("bearing a: 46.264 g·mm") && after.contains(kept) && !after.contains("G 2.5"), "{after}");
    assert!(after.contains("*** WITHIN *** its tolerance"), "{after}");
}
