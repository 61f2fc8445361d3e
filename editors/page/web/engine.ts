/** The program in the page: a question in as JSON, the answer out. `src/desk.rs` has the questions. */

export interface Sheet {
  path: string;
  text: string;
}

/** Places count UTF-16 units from the beginning of a text, as the editor does. */
export interface Range {
  from: number;
  to: number;
}

export interface Change extends Range {
  path: string;
  text: string;
}

export interface Diagnostic extends Range {
  path: string;
  severity: "error" | "warning" | "note";
  code: string;
  message: string;
  help: string | null;
  fixes: { title: string; edits: Change[] }[];
}

export interface Completion extends Range {
  label: string;
  kind: string;
  detail: string | null;
  documentation: string | null;
  text: string;
  snippet: string | null;
  order: [number, number];
  again: boolean;
}

export interface Action {
  title: string;
  edits: Change[];
  mends: boolean;
}

export interface Dress {
  hints: { at: number; label: string; kind: string; tooltip: string; edits: Change[] }[];
  tokens: { range: Range; class: string; pinned: boolean }[];
}

interface Answers {
  opened: [{ sheets: Sheet[] }, null];
  sheets: [{ sheets: Sheet[] }, null];
  judge: [object, Diagnostic[]];
  completions: [{ path: string; at: number }, Completion[] | null];
  hover: [{ path: string; at: number }, { range: Range; markdown: string } | null];
  actions: [{ path: string; at: number }, Action[] | null];
  definition: [{ path: string; at: number }, { path: string; range: Range } | null];
  dress: [{ path: string }, Dress | null];
  results: [{ path: string; at: number }, string | null];
  moved: [{ path: string; at: number }, string | null];
  card: [{ path: string; at: number; today: string }, string | null];
  format: [{ path: string }, Change[] | null];
  page: [{ code: string }, string | null];
  starts: [object, string[]];
  begin: [{ start: number; name: string }, { path: string; text: string } | { fault: string }];
}

interface Exports {
  memory: WebAssembly.Memory;
  reserve(length: number): number;
  answer(): bigint;
}

export class Engine {
  private constructor(
    private readonly module: WebAssembly.Module,
    private exports: Exports,
  ) {}

  static async of(bytes: Uint8Array<ArrayBuffer>): Promise<Engine> {
    const module = await WebAssembly.compile(bytes);
    return new Engine(module, await started(module));
  }

  ask<K extends keyof Answers>(ask: K, given: Answers[K][0]): Answers[K][1] {
    const question = new TextEncoder().encode(JSON.stringify({ ask, ...given }));
    const { memory, reserve, answer } = this.exports;
    const at = reserve(question.length);
    new Uint8Array(memory.buffer, at, question.length).set(question);
    const told = answer();
    const said = new Uint8Array(memory.buffer, Number(told >> 32n), Number(told & 0xffffffffn));
    return JSON.parse(new TextDecoder().decode(said));
  }

  /** Starts the program again after it broke off; the sheets have to be handed to it once more. */
  async restart(): Promise<void> {
    this.exports = await started(this.module);
  }
}

async function started(module: WebAssembly.Module): Promise<Exports> {
  const instance = await WebAssembly.instantiate(module, {});
  return instance.exports as unknown as Exports;
}
