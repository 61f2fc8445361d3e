/** The sheets that the page holds: from an example book, from what the browser kept, or from a link. */

import type { Change, Sheet } from "./engine";

export interface Held {
  /** The name of the book that was begun from. */
  book: string;
  sheets: Sheet[];
  open: string;
}

declare const BOOKS: Record<string, Sheet[]>;

export const books = BOOKS;
const KEPT = "rotorbook.sheets";
const LINK = "#sheets=";

export function begun(book: string): Held {
  const name = book in books ? book : Object.keys(books)[0]!;
  const sheets = books[name]!.map((sheet) => ({ ...sheet }));
  const first = sheets.find((sheet) => sheet.path.startsWith("rotors/fan-wheel")) ?? sheets[0]!;
  return { book: name, sheets, open: first.path };
}

/** As the book was before anybody changed it here. */
export function before(held: Held): Sheet[] {
  return books[held.book] ?? [];
}

export async function found(): Promise<Held> {
  const linked = location.hash.startsWith(LINK) ? await read(location.hash.slice(LINK.length)) : null;
  if (linked) return linked;
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT) ?? "null");
    if (isHeld(kept)) return kept;
  } catch {
    // What cannot be read is not there.
  }
  return begun("");
}

/** Whether the browser kept them: with storage switched off, or full, it does not. */
export function keep(held: Held): boolean {
  try {
    localStorage.setItem(KEPT, JSON.stringify(held));
    return true;
  } catch {
    return false;
  }
}

/** A link that holds what differs from the book that was begun from. Nothing is sent: it is all after the `#`. */
export async function link(held: Held): Promise<string> {
  const was = new Map(before(held).map((sheet) => [sheet.path, sheet.text]));
  const changed = held.sheets.filter((sheet) => was.get(sheet.path) !== sheet.text);
  const gone = [...was.keys()].filter((path) => !held.sheets.some((sheet) => sheet.path === path));
  const told = JSON.stringify({ book: held.book, changed, gone, open: held.open });
  const packed = await through(new TextEncoder().encode(told), new CompressionStream("deflate-raw"));
  const letters = btoa(Array.from(packed, (byte) => String.fromCharCode(byte)).join(""));
  const url = new URL(location.href);
  url.hash = LINK + letters.replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  return url.href;
}

async function read(letters: string): Promise<Held | null> {
  try {
    const packed = Uint8Array.from(atob(letters.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
    const told = JSON.parse(new TextDecoder().decode(await through(packed, new DecompressionStream("deflate-raw"))));
    const changed: Sheet[] = told.changed;
    const stays = (sheet: Sheet) =>
      !told.gone.includes(sheet.path) && !changed.some((other) => other.path === sheet.path);
    const sheets = [...(books[told.book] ?? []).filter(stays), ...changed];
    const held = { book: told.book, sheets: sorted(sheets), open: told.open };
    return isHeld(held) ? held : null;
  } catch {
    return null;
  }
}

export async function through(
  bytes: Uint8Array<ArrayBuffer>,
  by: CompressionStream | DecompressionStream,
): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(by)).arrayBuffer());
}

export function sorted(sheets: Sheet[]): Sheet[] {
  return [...sheets].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** The sheets with changes made; of changes in one sheet none overlap. */
export function changed(sheets: Sheet[], changes: Change[]): Sheet[] {
  return sheets.map((sheet) => {
    const here = changes.filter((change) => change.path === sheet.path).sort((a, b) => b.from - a.from);
    const text = here.reduce((text, at) => text.slice(0, at.from) + at.text + text.slice(at.to), sheet.text);
    return { path: sheet.path, text };
  });
}

function isHeld(value: unknown): value is Held {
  const held = value as Held;
  const isSheet = (sheet: Sheet) => typeof sheet.path === "string" && typeof sheet.text === "string";
  return (
    typeof held?.book === "string" &&
    Array.isArray(held.sheets) &&
    held.sheets.every(isSheet) &&
    held.sheets.some((sheet) => sheet.path === held.open)
  );
}
