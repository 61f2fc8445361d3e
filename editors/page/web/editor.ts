/** The text of one sheet, with colours, hints, messages, completion and what a thing means. */

import {
  acceptCompletion,
  autocompletion,
  closeBrackets,
  closeBracketsKeymap,
  completionKeymap,
  snippet,
  startCompletion,
  type Completion as Offer,
  type CompletionContext,
  type CompletionResult,
} from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, indentWithTab } from "@codemirror/commands";
import { indentUnit } from "@codemirror/language";
import { lintGutter, lintKeymap, setDiagnostics, type Diagnostic as Marked } from "@codemirror/lint";
import { highlightSelectionMatches, searchKeymap } from "@codemirror/search";
import { EditorState, StateEffect, StateField, type Extension, type Range as Placed } from "@codemirror/state";
import {
  Decoration,
  EditorView,
  WidgetType,
  drawSelection,
  highlightActiveLine,
  hoverTooltip,
  keymap,
  lineNumbers,
  type DecorationSet,
} from "@codemirror/view";

import type { Change, Completion, Diagnostic, Dress, Engine } from "./engine";
import { prose } from "./prose";

/** What the editor asks of the page. */
export interface Desk {
  engine: Engine;
  /** The sheet that is open. */
  path(): string;
  /** Has the engine read the sheets as they are now, without judging them. */
  read(): void;
  apply(changes: Change[]): void;
  goTo(path: string, at: number): void;
  explain(code: string): void;
  /** The text or the place of the cursor has changed. */
  touched(text: boolean): void;
}

const dressed = StateEffect.define<DecorationSet>();

const dress = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(decorations, transaction) {
    const moved = decorations.map(transaction.changes);
    return transaction.effects.reduce((kept, effect) => (effect.is(dressed) ? effect.value : kept), moved);
  },
  provide: (field) => EditorView.decorations.from(field),
});

class HintLabel extends WidgetType {
  constructor(
    private readonly hint: Dress["hints"][number],
    private readonly desk: Desk,
  ) {
    super();
  }

  override eq(other: HintLabel): boolean {
    return other.hint.label === this.hint.label && other.hint.tooltip === this.hint.tooltip;
  }

  override toDOM(): HTMLElement {
    const label = document.createElement("span");
    label.className = `hint ${this.hint.kind}`;
    label.textContent = ` ${this.hint.label}`;
    if (this.hint.edits.length > 0) {
      label.title = "Double-click to write this into the sheet";
      label.ondblclick = () => this.desk.apply(this.hint.edits);
    }
    return label;
  }
}

export function created(desk: Desk, parent: HTMLElement): EditorView {
  return new EditorView({ parent, state: state(desk, "") });
}

export function state(desk: Desk, text: string): EditorState {
  return EditorState.create({ doc: text, extensions: extensions(desk) });
}

function extensions(desk: Desk): Extension {
  return [
    lineNumbers(),
    history(),
    drawSelection(),
    highlightActiveLine(),
    highlightSelectionMatches(),
    closeBrackets(),
    indentUnit.of("  "),
    lintGutter(),
    dress,
    autocompletion({ override: [(context) => completions(desk, context)] }),
    hoverTooltip((view, at) => hover(desk, view, at)),
    keymap.of([
      { key: "Tab", run: acceptCompletion },
      { key: "F12", run: (view) => definition(desk, view) },
      { key: "Shift-Alt-f", run: () => format(desk) },
      ...closeBracketsKeymap,
      ...completionKeymap,
      ...lintKeymap,
      ...searchKeymap,
      ...historyKeymap,
      ...defaultKeymap,
      indentWithTab,
    ]),
    EditorView.lineWrapping,
    EditorView.contentAttributes.of({ "aria-label": "Text of the sheet", spellcheck: "false" }),
    EditorView.updateListener.of((update) => {
      if (update.docChanged || update.selectionSet) desk.touched(update.docChanged);
    }),
  ];
}

/** Colours, hints and messages of the sheet, as the engine has just read it. */
export function shown(desk: Desk, view: EditorView, said: Diagnostic[]): void {
  const found = desk.engine.ask("dress", { path: desk.path() });
  const length = view.state.doc.length;
  const marks: Placed<Decoration>[] = [];
  for (const token of found?.tokens ?? []) {
    const { from, to } = token.range;
    const name = `token ${token.class}${token.pinned ? " pinned" : ""}`;
    if (from < to && to <= length) marks.push(Decoration.mark({ class: name }).range(from, to));
  }
  for (const hint of found?.hints ?? []) {
    const widget = new HintLabel(hint, desk);
    if (hint.at <= length) marks.push(Decoration.widget({ widget, side: 1 }).range(hint.at));
  }
  const here = said.filter((one) => one.path === desk.path() && one.to <= length);
  view.dispatch(
    { effects: dressed.of(Decoration.set(marks, true)) },
    setDiagnostics(view.state, here.map((one) => marked(desk, one))),
  );
}

function marked(desk: Desk, said: Diagnostic): Marked {
  const fixes = said.fixes.map((fix) => ({ name: fix.title, apply: () => desk.apply(fix.edits) }));
  return {
    from: said.from,
    to: said.to,
    severity: said.severity === "note" ? "info" : said.severity,
    message: said.message,
    renderMessage: () => worded(desk, said),
    actions: fixes.slice(0, 4),
  };
}

/** A message with its help, and its code as the way to its page. */
export function worded(desk: Desk, said: Diagnostic): HTMLElement {
  const whole = document.createElement("div");
  whole.className = "message";
  whole.append(prose(said.message, "span"));
  if (said.help) {
    const help = prose(`help: ${said.help}`, "div");
    help.className = "help";
    whole.append(help);
  }
  const code = document.createElement("button");
  code.className = "code";
  code.textContent = said.code;
  code.title = "What this message means";
  code.onclick = () => desk.explain(said.code);
  whole.append(code);
  return whole;
}

function completions(desk: Desk, context: CompletionContext): CompletionResult | null {
  desk.read();
  const found = desk.engine.ask("completions", { path: desk.path(), at: context.pos }) ?? [];
  const first = found[0];
  if (!first || (!context.explicit && first.from === context.pos && !follows(context))) return null;
  const same = found.filter((one) => one.from === first.from && one.to === first.to);
  return { from: first.from, options: same.map((one) => offer(one)), validFor: /^[\p{L}\d .]*$/u };
}

/** Whether the list is useful before anything is typed: after a colon. */
function follows(context: CompletionContext): boolean {
  return /: $/.test(context.state.doc.sliceString(Math.max(0, context.pos - 2), context.pos));
}

function offer(one: Completion): Offer {
  const write = one.snippet === null ? null : snippet(asTemplate(one.snippet));
  return {
    label: one.label,
    type: one.kind,
    ...(one.detail === null ? {} : { detail: one.detail }),
    ...(one.documentation === null ? {} : { info: () => prose(one.documentation!) }),
    boost: -one.order[0] - one.order[1] / 1000,
    apply: (view, option, from, to) => {
      if (write) write(view, option, from, to);
      else view.dispatch({ changes: { from, to, insert: one.text }, selection: { anchor: from + one.text.length } });
      if (one.again) startCompletion(view);
    },
  };
}

/** The stops of the one notation in that of the other: `${1:mass}` is `#{1:mass}`, `$0` the last. */
function asTemplate(snippet: string): string {
  const stop = /\\([\\$}])|\$\{(\d+):((?:\\.|[^}\\])*)\}|\$\{(\d+)\}|\$(\d+)/g;
  return snippet.replace(stop, (_, escaped, n, inside, bare, short) => {
    if (escaped !== undefined) return escaped;
    const number = n ?? bare ?? short;
    return inside === undefined ? `#{${number}}` : `#{${number}:${inside.replace(/\\(.)/g, "$1")}}`;
  });
}

function hover(desk: Desk, view: EditorView, at: number) {
  desk.read();
  const found = desk.engine.ask("hover", { path: desk.path(), at });
  if (!found || found.range.to > view.state.doc.length) return null;
  const { from, to } = found.range;
  return { pos: from, end: to, above: true, create: () => ({ dom: boxed(prose(found.markdown)) }) };
}

function boxed(inside: HTMLElement): HTMLElement {
  inside.classList.add("hover");
  return inside;
}

function definition(desk: Desk, view: EditorView): boolean {
  desk.read();
  const found = desk.engine.ask("definition", { path: desk.path(), at: view.state.selection.main.head });
  if (found) desk.goTo(found.path, found.range.from);
  return found !== null;
}

export function format(desk: Desk): boolean {
  desk.read();
  desk.apply(desk.engine.ask("format", { path: desk.path() }) ?? []);
  return true;
}
