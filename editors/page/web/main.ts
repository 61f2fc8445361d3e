/** The page: sheets and editor on the left, what follows from them on the right. */

import { EditorView } from "@codemirror/view";

import { Engine, type Change, type Diagnostic } from "./engine";
import * as editor from "./editor";
import { prose } from "./prose";
import * as kept from "./sheets";

declare const PROGRAM: string;

/** Milliseconds without a key pressed before everything is read again. */
const REST = 200;

type Panel = "results" | "card" | "messages" | "moved" | "page";

const EMPTY: Record<Panel, string> = {
  results: "This sheet has no item yet.",
  card: "This sheet has no rotor, setup or record.",
  messages: "Nothing to report: no errors, no warnings.",
  moved: "Nothing has moved since this book was opened. Change a number and look here.",
  page: "",
};

function part<E extends HTMLElement>(id: string): E {
  return document.getElementById(id) as E;
}

async function begin(): Promise<void> {
  const bytes = Uint8Array.from(atob(PROGRAM), (letter) => letter.charCodeAt(0));
  const engine = await Engine.of(await kept.through(bytes, new DecompressionStream("gzip")));
  new Page(engine, await kept.found());
}

class Page implements editor.Desk {
  private said: Diagnostic[] = [];
  private panel: Panel = "results";
  private code = "";
  private isRead = false;
  private isJudged = false;
  private resting: number | undefined;
  private readonly view: EditorView;

  constructor(
    readonly engine: Engine,
    private held: kept.Held,
  ) {
    this.view = editor.created(this, part("text"));
    this.listen();
    this.take(held);
    this.view.focus();
  }

  path(): string {
    return this.held.open;
  }

  read(): void {
    if (this.isRead) return;
    const open = this.held.sheets.find((sheet) => sheet.path === this.held.open);
    if (open) open.text = this.view.state.doc.toString();
    this.engine.ask("sheets", { sheets: this.held.sheets });
    this.isRead = true;
  }

  private judge(): void {
    this.read();
    this.said = this.engine.ask("judge", {});
    this.isJudged = true;
  }

  apply(changes: Change[]): void {
    this.read();
    const here = changes.filter((change) => change.path === this.held.open);
    const elsewhere = changes.filter((change) => change.path !== this.held.open);
    this.held.sheets = kept.changed(this.held.sheets, elsewhere);
    this.isRead = this.isJudged = false;
    const edits = here.map(({ from, to, text }) => ({ from, to, insert: text }));
    this.view.dispatch({ changes: edits, scrollIntoView: true });
    this.refresh();
    this.view.focus();
  }

  goTo(path: string, at: number): void {
    if (path !== this.held.open) this.open(path, at);
    else this.view.dispatch({ selection: { anchor: at }, effects: EditorView.scrollIntoView(at, { y: "center" }) });
    this.view.focus();
  }

  explain(code: string): void {
    this.code = code;
    this.turnTo("page");
  }

  touched(text: boolean): void {
    if (text) this.isRead = this.isJudged = false;
    clearTimeout(this.resting);
    // A moving cursor does not take away the update that an edit is waiting for.
    this.resting = window.setTimeout(() => this.guarded(() => this.update()), REST);
  }

  private update(): void {
    if (this.isJudged) this.follow();
    else this.refresh();
  }

  private open(path: string, at: number): void {
    // What was typed a moment ago is in the editor alone.
    this.guarded(() => this.read());
    this.load(path, at);
  }

  private load(path: string, at: number): void {
    this.held.open = path;
    const text = this.held.sheets.find((sheet) => sheet.path === path)?.text ?? "";
    this.view.setState(editor.state(this, text));
    this.view.dispatch({ selection: { anchor: at }, effects: EditorView.scrollIntoView(at, { y: "center" }) });
    this.isRead = this.isJudged = false;
    this.guarded(() => this.refresh());
  }

  /** Updates everything after an edit. */
  private refresh(): void {
    this.judge();
    editor.shown(this, this.view, this.said);
    const isKept = kept.keep(this.held);
    const count = (severity: string) => this.said.filter((said) => said.severity === severity).length;
    const [errors, warnings] = [count("error"), count("warning")];
    const told = [several(errors, "error"), several(warnings, "warning")].join(", ");
    part("state").textContent = isKept ? told : `${told}; this browser does not keep the sheets`;
    part("state").className = errors > 0 ? "error" : warnings > 0 ? "warning" : "";
    this.listSheets();
    this.follow();
  }

  /** What follows the cursor: actions and the panel. */
  private follow(): void {
    const at = this.view.state.selection.main.head;
    const found = this.engine.ask("actions", { path: this.held.open, at }) ?? [];
    const buttons = found.slice(0, 8).map((action) => {
      const button = document.createElement("button");
      button.append(prose(action.title, "span"));
      button.className = action.mends ? "mends" : "";
      button.onclick = () => this.guarded(() => this.apply(action.edits));
      return button;
    });
    part("actions").replaceChildren(...buttons);
    this.show(at);
  }

  private show(at: number): void {
    const whole = part("panel");
    const place = { path: this.held.open, at };
    const from = whole.dataset.panel === this.panel ? whole.scrollTop : 0;
    whole.dataset.panel = this.panel;
    if (this.panel === "messages") whole.replaceChildren(...this.messages());
    else if (this.panel === "card") this.showCard(whole, place);
    else {
      const markdown =
        this.panel === "page" ? this.engine.ask("page", { code: this.code }) : this.engine.ask(this.panel, place);
      whole.replaceChildren(prose(markdown ?? EMPTY[this.panel]));
    }
    whole.scrollTop = from;
  }

  private showCard(whole: HTMLElement, place: { path: string; at: number }): void {
    const now = new Date();
    const two = (n: number) => String(n).padStart(2, "0");
    const today = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    const document_ = this.engine.ask("card", { ...place, today });
    if (document_ === null) return whole.replaceChildren(prose(EMPTY.card));
    const there = whole.querySelector("iframe");
    if (there?.dataset.document === document_) return;
    const frame = document.createElement("iframe");
    frame.title = "The card";
    frame.setAttribute("sandbox", "");
    frame.dataset.document = document_;
    frame.srcdoc = document_;
    whole.replaceChildren(frame);
  }

  private messages(): HTMLElement[] {
    const order = ["error", "warning", "note"];
    const sorted = [...this.said].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity));
    const lines = sorted.map((said) => {
      const line = document.createElement("section");
      line.className = `said ${said.severity}`;
      const where = document.createElement("button");
      where.className = "where";
      where.textContent = `${said.severity} in ${said.path}`;
      where.onclick = () => this.goTo(said.path, said.from);
      line.append(where, editor.worded(this, said));
      return line;
    });
    return lines.length > 0 ? lines : [prose(EMPTY.messages)];
  }

  private turnTo(panel: Panel): void {
    this.panel = panel;
    document.querySelectorAll<HTMLButtonElement>("#panels button").forEach((button) => {
      button.setAttribute("aria-selected", String(button.dataset.panel === panel));
    });
    this.guarded(() => this.update());
  }

  private listSheets(): void {
    const grave = (path: string) =>
      ["error", "warning"].find((weight) => this.said.some((one) => one.path === path && one.severity === weight));
    const was = new Map(kept.before(this.held).map((sheet) => [sheet.path, sheet.text]));
    const options = this.held.sheets.map((sheet) => {
      const option = document.createElement("option");
      option.value = sheet.path;
      const marks = [was.get(sheet.path) === sheet.text ? "" : "changed", grave(sheet.path) ?? ""].filter(Boolean);
      option.textContent = marks.length > 0 ? `${sheet.path} (${marks.join(", ")})` : sheet.path;
      option.selected = sheet.path === this.held.open;
      return option;
    });
    part("sheets").replaceChildren(...options);
  }

  private fillIn(): void {
    const options = Object.keys(kept.books).map((name) => {
      const option = document.createElement("option");
      option.value = option.textContent = name;
      option.selected = name === this.held.book;
      return option;
    });
    part("books").replaceChildren(...options);
  }

  private listen(): void {
    part<HTMLSelectElement>("sheets").onchange = (event) => this.open((event.target as HTMLSelectElement).value, 0);
    part<HTMLSelectElement>("books").onchange = (event) => this.start((event.target as HTMLSelectElement).value);
    part("again").onclick = () => this.start(this.held.book);
    part("format").onclick = () => this.guarded(() => void editor.format(this));
    part("link").onclick = () => void this.copyLink();
    part("new").onclick = () => this.guarded(() => this.askForSheet());
    part<HTMLFormElement>("begin").onsubmit = () => this.guarded(() => this.newSheet());
    part("cancel").onclick = () => part<HTMLDialogElement>("beginning").close();
    part("remove").onclick = () => this.remove();
    document.querySelectorAll<HTMLButtonElement>("#panels button").forEach((button) => {
      button.onclick = () => this.turnTo(button.dataset.panel as Panel);
    });
    window.addEventListener("hashchange", () => {
      void kept.found().then((held) => this.take(held));
    });
  }

  private start(book: string): void {
    const isChanged = kept.before(this.held).some((was) => {
      return this.held.sheets.find((sheet) => sheet.path === was.path)?.text !== was.text;
    });
    const isLonger = this.held.sheets.length !== kept.before(this.held).length;
    const leaves = "Your changes in these sheets will be lost. Go on?";
    if ((isChanged || isLonger) && !confirm(leaves)) return this.fillIn();
    history.replaceState(null, "", location.pathname + location.search);
    this.take(kept.begun(book));
  }

  /** Replaces the open book. */
  private take(held: kept.Held): void {
    this.held = held;
    this.fillIn();
    this.guarded(() => void this.engine.ask("opened", { sheets: kept.before(held) }));
    this.load(held.open, 0);
  }

  private async copyLink(): Promise<void> {
    this.read();
    const link = await kept.link(this.held);
    history.replaceState(null, "", link);
    const copied = await navigator.clipboard?.writeText(link).then(
      () => true,
      () => false,
    );
    const said = copied ? "Link copied. It holds the sheets; nothing was sent." : "The link is in the address bar.";
    part("state").textContent = said;
  }

  private askForSheet(): void {
    this.read();
    const starts = this.engine.ask("starts", {}).map((words, n) => {
      const option = document.createElement("option");
      option.value = String(n);
      option.textContent = words;
      return option;
    });
    part("starts").replaceChildren(...starts);
    part("fault").textContent = "";
    part<HTMLDialogElement>("beginning").showModal();
  }

  private newSheet(): void {
    const start = Number(part<HTMLSelectElement>("starts").value);
    const name = part<HTMLInputElement>("name").value;
    const begun = this.engine.ask("begin", { start, name });
    if ("fault" in begun) {
      part("fault").textContent = begun.fault;
      return;
    }
    this.held.sheets = kept.sorted([...this.held.sheets, begun]);
    part<HTMLDialogElement>("beginning").close();
    this.open(begun.path, 0);
  }

  private remove(): void {
    const others = this.held.sheets.filter((sheet) => sheet.path !== this.held.open);
    const first = others[0];
    if (!first || !confirm(`Remove ${this.held.open} from this page?`)) return;
    this.held.sheets = others;
    this.open(first.path, 0);
  }

  /** What the program cannot do is said, and it is started again with the same sheets. */
  private guarded(act: () => void): void {
    try {
      act();
    } catch (fault) {
      console.error(fault);
      part("state").textContent = "The program broke off at this text. Your sheets are as they were; please report it.";
      part("state").className = "error";
      this.isRead = this.isJudged = false;
      void this.engine.restart().then(() => this.engine.ask("opened", { sheets: kept.before(this.held) }));
    }
  }
}

function several(n: number, what: string): string {
  return n === 1 ? `1 ${what}` : `${n} ${what}s`;
}

begin().catch((fault) => {
  console.error(fault);
  part("state").textContent = "This browser cannot run the page: it needs WebAssembly and the Compression Streams API.";
});
