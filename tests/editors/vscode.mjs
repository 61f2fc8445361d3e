// VS Code's server in a browser, with the packaged extension. usage: node vscode.mjs URL BOOK [IMAGES]
// Each step works on the sheet as a person would, by keyboard and mouse; IMAGES is a folder for pictures of some.

import { readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";

const [url, book, images] = process.argv.slice(2);
const { chromium } = createRequire(path.join(process.cwd(), "package.json"))("playwright-core");

const ROTOR = "rotors/fan-wheel-315.rotor";
const SETUP = "setups/fan-wheel-315-soft-bench.rotor";
const PATIENCE = Number(process.env.PATIENCE ?? 30) * 1000;

const onDisk = (file) => readFileSync(path.join(book, file), "utf8");

/** The number, from 1, of the first line of a saved sheet that begins with a text. */
function lineOf(file, text) {
  const lines = onDisk(file).split("\n");
  const found = lines.findIndex((line) => line.trimStart().startsWith(text));
  if (found < 0) throw new Error(`${file} has no line ${text}`);
  return found + 1;
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
});
const page = await browser.newPage({ viewport: { width: 1080, height: 760 } });
page.setDefaultTimeout(PATIENCE);
const { keyboard } = page;

const press = async (...keys) => {
  for (const key of keys) await keyboard.press(key);
};

/** Opens the line at the top of the window by a key and writes into it; typing might come before it is there. */
async function quick(key, text) {
  await press(key);
  await page.locator(".quick-input-widget input[type=text]").first().fill(text);
}

/** Puts the cursor at a line, behind its indentation or at its end. */
async function goTo(line, end = false) {
  await quick("Control+g", `:${line}`);
  await press("Enter");
  await page.waitForSelector(".quick-input-widget", { state: "hidden" });
  await press(end ? "End" : "Home");
}

/** Waits until a line is shown that holds both texts, hints included. */
const shown = (...texts) =>
  page.waitForFunction(
    (texts) =>
      [...document.querySelectorAll(".view-line")].some((line) => {
        const text = line.textContent.replaceAll("\u00a0", " ");
        return texts.every((part) => text.includes(part));
      }),
    texts,
  );

const squiggles = (number) =>
  page.waitForFunction(
    (number) => (document.querySelectorAll(".squiggly-error, .squiggly-warning").length > 0) === number > 0,
    number,
  );

async function command(name) {
  await quick("F1", `>${name}`);
  await page.waitForSelector(`.quick-input-list .monaco-list-row.focused:has-text("${name}")`);
  await press("Enter");
}

async function picture(name) {
  if (images !== undefined) {
    await page.mouse.move(0, 0);
    await page.waitForTimeout(400);
    await page.screenshot({ path: path.join(images, `${name}.png`) });
  }
}

/** Whether the sheet in front is as it was saved. */
const isClean = () => page.locator(".tab.active.dirty").count().then((dirty) => dirty === 0);

async function openSheet(file) {
  const name = path.basename(file);
  const tab = page.locator(`.tab[data-resource-name="${name}"]`);
  if (await tab.count()) {
    await tab.click();
  } else {
    await quick("Control+p", name);
    await page.waitForSelector(`.quick-input-list .monaco-list-row.focused[aria-label^="${name}"]`);
    await press("Enter");
  }
  await page.waitForSelector(`.tab.active[data-resource-name="${name}"]`);
  await page.waitForSelector(".editor-instance .view-line");
}

/** The action of these words here. A list that came before it was known is opened again. */
async function action(words) {
  const found = page.locator(`.action-widget :text("${words}")`).first();
  const end = Date.now() + PATIENCE;
  for (;;) {
    await press("Control+.");
    if (await found.waitFor({ timeout: PATIENCE / 10 }).then(() => true, () => false)) return found;
    if (Date.now() > end) throw new Error(`no action "${words}" is offered`);
    await press("Escape");
  }
}

/**
 * The completion of these words here, of what was just typed. It comes by itself; in a busy window a list may come before
 * the server has answered, or not at all, and is asked for again.
 */
async function completion(words) {
  const found = page.locator(`.suggest-widget.visible .monaco-list-row:has-text("${words}")`).first();
  const end = Date.now() + PATIENCE;
  while (!(await found.waitFor({ timeout: PATIENCE / 10 }).then(() => true, () => false))) {
    if (Date.now() > end) throw new Error(`no completion "${words}" is offered`);
    await press("Escape", "Control+Space");
  }
  return found;
}

/** Saves, and waits until the saved sheet is as it should be. */
async function saved(file, isRight) {
  await press("Control+s");
  const end = Date.now() + PATIENCE;
  while (!isRight(onDisk(file))) {
    if (Date.now() > end) throw new Error(`${file} was saved as\n${onDisk(file)}`);
    await page.waitForTimeout(50);
  }
}

/** Waits until a panel, which is a page in the page, shows all of these texts. */
async function panelShows(...parts) {
  const end = Date.now() + PATIENCE;
  for (;;) {
    const texts = await Promise.all(page.frames().slice(1).map((frame) => frame.textContent("body").catch(() => "")));
    if (texts.some((text) => parts.every((part) => text?.includes(part)))) return;
    if (Date.now() > end) throw new Error(`no panel shows ${parts.join(", ")}`);
    await page.waitForTimeout(100);
  }
}

const steps = {
  async "hints are drawn"() {
    const pin = lineOf(ROTOR, "permissible unbalance");
    await shown("weighed: 2.73 kg", "mass 4.82 kg");
    await goTo(pin);
    await press("Control+Shift+k");
    await shown("grade: G 6.3", "81.7 g·mm");
    await picture("hints");
    await press("Control+z");
    await shown("permissible unbalance => 81.7 g·mm");
  },

  async "a diagnostic comes and goes while typing"() {
    await goTo(lineOf(ROTOR, "highest service speed"), true);
    await press("Backspace");
    await squiggles(1);
    await press("Control+Shift+m");
    await page.waitForSelector('.markers-panel .monaco-list-row:has-text("rp")');
    await picture("diagnostic");
    await press("Control+Shift+m");
    await openSheet(ROTOR);
    await goTo(lineOf(ROTOR, "highest service speed"), true);
    await keyboard.type("m");
    await press("Escape");
    await squiggles(0);
  },

  async "hover shows the formula"() {
    await goTo(lineOf(ROTOR, "permissible unbalance"));
    await press("Control+k", "Control+i");
    await page.waitForSelector('.monaco-hover:not(.hidden) :text("9549")');
    await picture("hover");
    await press("Escape");
  },

  async "a fix is applied"() {
    await goTo(lineOf(ROTOR, "permissible unbalance"), true);
    for (const _ of "81.7 g·mm") await press("Backspace");
    await keyboard.type("79.2 g·mm");
    await press("Escape");
    await squiggles(1);
    await goTo(lineOf(ROTOR, "permissible unbalance"), true);
    const fix = await action("81.7");
    await picture("fix");
    await fix.click();
    await shown("permissible unbalance => 81.7 g·mm");
    await squiggles(0);
  },

  async "what an edit moves in other sheets is told"() {
    await goTo(lineOf(ROTOR, "grade:"), true);
    for (const _ of "6.3") await press("Backspace");
    await keyboard.type("3.15");
    await press("Escape");
    await shown("grade: G 3.15", "moves 3 sheets");
    await picture("consequences");
    await goTo(1);
    await page.locator('.codelens-decoration a:has-text("since the last save")').first().click();
    await panelShows("before", "fan wheel 400 on the soft bench");
    await page.click('.tab:has-text("What this moves")', { button: "middle" });
    await openSheet(ROTOR);
    await goTo(lineOf(ROTOR, "grade:"), true);
    for (const _ of "3.15") await press("Backspace");
    await keyboard.type("6.3");
    await press("Escape");
    await squiggles(0);
  },

  async "a fix stops at what is to be filled in"() {
    const before = onDisk(ROTOR);
    const line = lineOf(ROTOR, "datum:");
    await goTo(line);
    await press("Control+Shift+k");
    await goTo(lineOf(ROTOR, "bearings:") - (lineOf(ROTOR, "bearings:") > line ? 1 : 0));
    await (await action("Write `datum: ?`")).click();
    await shown("datum: ?");
    // The place to fill in is selected: what is typed stands there.
    await keyboard.type('"shoulder"');
    await press("Escape", "Escape");
    await shown('datum: "shoulder"');
    for (let n = 0; n < 40 && !(await isClean()); n++) await press("Control+z");
    await shown(before.split("\n")[line - 1].trim());
  },

  async "format leaves a clean file"() {
    const before = onDisk(ROTOR);
    await goTo(lineOf(ROTOR, "drawing:"));
    await keyboard.type("      ");
    await shown("      drawing:");
    await command("Format Document");
    await page.waitForFunction(
      () => ![...document.querySelectorAll(".view-line")].some((l) => /\s{4}drawing/.test(l.textContent.replaceAll("\u00a0", " "))),
    );
    await saved(ROTOR, (text) => text === before);
  },

  async "results are shown beside"() {
    await goTo(lineOf(ROTOR, "grade"));
    await press("Control+Shift+v");
    await panelShows("permissible unbalance", "9549");
    await picture("results");
    await page.click('.tab:has-text("Results")', { button: "middle" });
  },

  async "a completion is offered and accepted"() {
    await openSheet(SETUP);
    await goTo(lineOf(SETUP, "balancing speed"));
    await press("Shift+End");
    await keyboard.type("bal", { delay: 30 });
    const offer = await completion("balancing speed");
    await picture("completion");
    await offer.click();
    await shown("balancing speed: ", " rpm");
    await keyboard.type("1150");
    await press("Escape");
    await saved(SETUP, (text) => text.includes("  balancing speed: 1150 rpm\n"));
  },

  async "completions with blanks are written whole"() {
    const before = onDisk(SETUP);
    for (const [line, typed, offered] of [
      ["indicates:", "indicates: h", "heavy spot"],
      ["rotor:", "rotor: fan", "fan wheel 315"],
    ]) {
      await goTo(lineOf(SETUP, line));
      await press("Shift+End");
      await keyboard.type(typed, { delay: 30 });
      await (await completion(offered)).click();
      await press("Escape");
    }
    await saved(SETUP, (text) => text === before);
  },

  async "what comes next in a value is told"() {
    await openSheet(ROTOR);
    const before = onDisk(ROTOR);
    await goTo(lineOf(ROTOR, "weighed:"));
    await press("Shift+End");
    await keyboard.type("weighed: 2.73 kg at ", { delay: 20 });
    await press("Escape", "Control+Shift+Space");
    await page.waitForSelector('.parameter-hints-widget.visible .parameter.active:has-text("place")');
    await press("Escape", "Escape");
    for (let n = 0; n < 40 && !(await isClean()); n++) await press("Control+z");
    await shown(before.split("\n")[lineOf(ROTOR, "weighed:") - 1].trim());
    await openSheet(SETUP);
  },

  async "a new sheet is begun"() {
    await goTo(1);
    await command("Rotorbook: New Sheet");
    const list = page.locator(".quick-input-widget");
    await list.locator('.monaco-list-row:has-text("New machine")').waitFor();
    await picture("begin");
    await list.locator("input[type=text]").first().fill("New machine");
    await list.locator('.monaco-list-row.focused:has-text("New machine")').waitFor();
    await press("Enter");
    await page.waitForSelector('.quick-input-widget:has-text("Name of the new machine")');
    await list.locator("input[type=text]").first().fill("test bench");
    await press("Enter");
    await page.waitForSelector('.tab.active[data-resource-name="test-bench.rotor"]');
    await shown('machine "test bench" {');
    await shown("supports: ?");
    // The first place to fill in is selected: what is typed stands there.
    await keyboard.type("soft");
    await press("Escape");
    await shown("supports: soft");
    await command("View: Revert and Close Editor");
    await page.waitForSelector('.tab[data-resource-name="test-bench.rotor"]', { state: "detached" });
    rmSync(path.join(book, "machines/test-bench.rotor"));
    await openSheet(SETUP);
  },

  async "a lens opens the bench card"() {
    await goTo(1);
    await page.locator('.codelens-decoration a:has-text("bench card")').first().click();
    await panelShows("fan wheel 315 on the soft bench", "PREVIEW");
    await picture("card");
    await page.click('.tab:has-text("Bench card")', { button: "middle" });
  },

  async "the first steps are shown one after the other"() {
    await command("Welcome: Open Walkthrough");
    const list = page.locator(".quick-input-widget");
    await list.locator("input[type=text]").first().fill("Begin with Rotorbook");
    await list.locator('.monaco-list-row.focused:has-text("Begin with Rotorbook")').waitFor();
    await press("Enter");
    const steps = page.locator(".gettingStartedContainer .getting-started-step");
    await steps.filter({ hasText: "The program that checks sheets" }).first().waitFor();
    await steps.filter({ hasText: "Begin a sheet" }).first().click();
    await page.waitForSelector('.gettingStartedContainer :text("New Sheet")');
    await page.click(".tab.active", { button: "middle" });
    await openSheet(SETUP);
  },

  async "rename crosses files"() {
    await openSheet(ROTOR);
    await goTo(lineOf(ROTOR, "rotor "));
    for (const _ of 'rotor "fan') await press("ArrowRight");
    await press("F2");
    await page.locator(".rename-box input").fill("fan wheel 316");
    await page.locator(".rename-box input").press("Enter");
    await shown('rotor "fan wheel 316"');
    await press("Control+k", "s");
    await saved(ROTOR, (text) => text.includes('rotor "fan wheel 316"'));
    await saved(SETUP, (text) => text.includes('rotor: "fan wheel 316"'));
  },

  async "no error is left"() {
    const none = () => {
      const problems = document.querySelector('[id="status.problems"]')?.textContent ?? "";
      return /^\s*0\s+0\b/.test(problems.replaceAll("\u00a0", " "));
    };
    await page.waitForFunction(none).catch(async () => {
      await press("Control+Shift+m");
      await page.waitForSelector(".markers-panel .monaco-list-row");
      throw new Error((await page.locator(".markers-panel .monaco-list-row").allTextContents()).join("\n"));
    });
  },
};

try {
  await page.goto(`${url}/?folder=${encodeURIComponent(book)}`);
  await page.waitForSelector(".monaco-workbench .explorer-folders-view .monaco-list-row");
  await press("Control+b");
  await openSheet(ROTOR);
  for (const [name, step] of Object.entries(steps)) {
    await step().catch((error) => {
      throw new Error(`not so: ${name}\n${error.message}`);
    });
    console.log(`  ${name}`);
  }
} catch (error) {
  console.error(error.message);
  await page.screenshot({ path: path.join(book, ".failed.png") });
  process.exitCode = 1;
} finally {
  await browser.close();
}
