// Tries the page in a real browser as somebody would who has never seen it: `node test.mjs PAGE.html [PICTURES]`. It asks
// for Chromium at /usr/bin/chromium or in CHROMIUM. The page is opened from the disk, with the network switched off.

import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

import { chromium } from "playwright-core";

const [page_, pictures] = process.argv.slice(2);
if (pictures) mkdirSync(pictures, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
});
const context = await browser.newContext({ viewport: { width: 1400, height: 900 }, offline: true });
const page = await context.newPage();
const asked = [];
const faults = [];
page.on("request", (request) => asked.push(request.url()));
page.on("pageerror", (fault) => faults.push(String(fault)));
page.on("console", (line) => line.type() === "error" && faults.push(line.text()));
page.on("dialog", (dialog) => dialog.accept());
const url = pathToFileURL(resolve(page_)).href;

const picture = async (name) => pictures && page.screenshot({ path: `${pictures}/${name}.png` });
const state = () => page.locator("#state").textContent();
const panel = () => page.locator("#panel").innerText();
const turnTo = (name) => page.getByRole("tab", { name }).click();
const until = async (what, holds) => {
  for (let tries = 0; tries < 100; tries++) {
    if (await holds()) return;
    await page.waitForTimeout(100);
  }
  assert.fail(`${what}: ${await state()}; ${(await panel()).slice(0, 400)}`);
};
/** Puts the cursor after a piece of text of the open sheet. */
const behind = async (text) => {
  const line = page.locator(".cm-line", { hasText: text }).first();
  await line.scrollIntoViewIfNeeded();
  await line.click();
  await page.keyboard.press("End");
};

const tests = {
  "the example book is without errors, and its results stand beside it": async () => {
    await page.goto(url);
    await until("read", async () => /^0 errors/.test(await state()));
    await page.selectOption("#sheets", "rotors/fan-wheel-315.rotor");
    await behind("weighed:");
    await until("results", async () => (await panel()).includes("permissible unbalance"));
    // 81.7 g·mm: ISO 21940-11, e·Ω = 6.3 mm/s at 3550 rpm, of 4.82 kg.
    assert.match(await panel(), /81\.7/);
    await picture("results");
  },
  "a changed number shows what it moves in other sheets, and one click opens the page of its message": async () => {
    const line = page.locator(".cm-line", { hasText: "highest service speed" }).first();
    await line.click();
    await page.keyboard.press("Home");
    await page.keyboard.press("Shift+End");
    await page.keyboard.type("  highest service speed: 2950 rpm");
    await until("a stale pin", async () => /warning/.test(await state()) && !/ 0 warnings/.test(await state()));
    await until("hint", async () => (await page.locator(".hint.moved").count()) > 0);
    await turnTo("What moved");
    await until("moved", async () => (await panel()).includes("fan wheel 315 on the soft bench"));
    await picture("moved");
    await turnTo("Messages");
    await until("said", async () => (await panel()).includes("pinned-result-stale"));
    await picture("messages");
    await page.locator("#panel .code").first().click();
    await until("its page", async () => (await panel()).length > 200);
  },
  "the card follows": async () => {
    await page.selectOption("#sheets", "setups/fan-wheel-315-soft-bench.rotor");
    await turnTo("Card");
    await until("a card", async () => (await page.locator("#panel iframe").count()) === 1);
    const frame = page.frameLocator("#panel iframe");
    await until("its words", async () => (await frame.locator("body").innerText()).includes("fan wheel 315"));
    await picture("card");
  },
  "a fault is marked as it is written, with a help": async () => {
    await turnTo("Messages");
    await page.selectOption("#sheets", "rotors/fan-wheel-400.rotor");
    await behind("highest service speed");
    await page.keyboard.press("Enter");
    await page.keyboard.type("radus: 3 mm");
    await until("an error", async () => /^[1-9]\d* error/.test(await state()));
    assert.match(await panel(), /radus/);
    await picture("fault");
  },
  "completion writes what is chosen": async () => {
    await page.keyboard.press("Shift+Home");
    await page.keyboard.type("first be");
    await page.waitForSelector(".cm-tooltip-autocomplete");
    await picture("completion");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Shift+Home");
    await page.keyboard.press("Delete");
    await until("mended", async () => /^0 errors/.test(await state()));
  },
  "what a word means is shown at it": async () => {
    await page.locator(".cm-line", { hasText: "highest service speed" }).locator(".token.key").first().hover();
    await page.waitForSelector(".cm-tooltip .hover");
    await picture("hover");
    await page.mouse.move(1000, 500);
  },
  "a link holds the sheets, and the browser keeps them": async () => {
    await page.getByText("Copy link").click();
    await until("a link", async () => page.url().includes("#sheets="));
    const link = page.url();
    assert.ok(link.length < 2000, `${link.length} letters`);
    const other = await browser.newContext({ offline: true });
    const there = await other.newPage();
    await there.goto(link);
    await there.waitForFunction(() => /error/.test(document.getElementById("state").textContent));
    await there.selectOption("#sheets", "rotors/fan-wheel-315.rotor");
    await there.waitForFunction(() => document.querySelector(".cm-content").innerText.includes("2950 rpm"));
    await other.close();
    await page.goto("about:blank");
    await page.goto(url);
    await until("kept", async () => /warning/.test(await state()));
    await page.selectOption("#sheets", "rotors/fan-wheel-315.rotor");
    await until("text", async () => (await page.locator(".cm-content").innerText()).includes("2950 rpm"));
  },
  "a sheet is begun with holes": async () => {
    await page.getByText("New sheet…").click();
    await page.selectOption("#starts", { label: "rotor" });
    await page.fill("#name", 'pump <img src=x onerror="alert(1)"> 9');
    await page.getByRole("button", { name: "Begin" }).click();
    await page.waitForTimeout(300);
    if (await page.locator("#beginning").isVisible()) {
      assert.ok((await page.locator("#fault").textContent()).length > 5);
      await page.fill("#name", "pump 9");
      await page.getByRole("button", { name: "Begin" }).click();
    }
    await until("begun", async () => (await page.locator(".cm-content").innerText()).includes("?"));
    await turnTo("Results");
    await picture("begun");
  },
  "it starts again from the example": async () => {
    await page.getByText("Start again").click();
    await until("as it was", async () => /^0 errors, 0 warnings/.test(await state()));
  },
  "every sheet of every book shows results and card": async () => {
    for (const book of await page.locator("#books option").allTextContents()) {
      await page.selectOption("#books", book);
      for (const sheet of await page.locator("#sheets option").evaluateAll((all) => all.map((one) => one.value))) {
        await page.selectOption("#sheets", sheet);
        await turnTo("Results");
        await turnTo("Card");
        assert.doesNotMatch(await state(), /broke off|[1-9]\d* errors?/, sheet);
      }
    }
  },
  "a key is answered quickly": async () => {
    await page.selectOption("#books", "Tern Quay");
    await page.selectOption("#sheets", "rotors/fan-wheel-315.rotor");
    await turnTo("Results");
    await behind("highest service speed");
    const took = await page.evaluate(async () => {
      const longest = [];
      new PerformanceObserver((list) => list.getEntries().forEach((entry) => longest.push(entry.duration))).observe({
        entryTypes: ["longtask"],
      });
      const text = document.querySelector(".cm-content");
      for (let n = 0; n < 10; n++) {
        text.focus();
        document.execCommand("insertText", false, "1");
        await new Promise((done) => setTimeout(done, 400));
        document.execCommand("delete");
        await new Promise((done) => setTimeout(done, 400));
      }
      return longest.map(Math.round).sort((a, b) => a - b);
    });
    console.log(`    longest pauses after a key: ${took.slice(-3).join(", ") || "none above 50"} ms`);
  },
};

let failed = 0;
for (const [name, test] of Object.entries(tests)) {
  try {
    await test();
    console.log(`ok ${name}`);
  } catch (fault) {
    failed += 1;
    console.log(`FAILED ${name}\n  ${fault.stack ?? fault}`);
    await picture(`failed-${failed}`);
  }
}
const elsewhere = asked.filter((address) => !/^(file|data|about|blob):/.test(address));
if (elsewhere.length > 0 || faults.length > 0) {
  failed += 1;
  console.log("FAILED nothing is loaded from elsewhere, and nothing is refused", elsewhere, faults);
}
await browser.close();
process.exit(failed === 0 ? 0 : 1);
