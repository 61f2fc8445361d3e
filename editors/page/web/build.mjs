// Puts script, style, program and example books into one file: `node web/build.mjs PROGRAM.wasm OUT.html`.

import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { gzipSync } from "node:zlib";

import { build } from "esbuild";

const [program, out] = process.argv.slice(2);
const examples = join(import.meta.dirname, "../../../examples");

function book(folder) {
  const all = readdirSync(join(examples, folder), { recursive: true, encoding: "utf8" });
  const sheets = all.filter((path) => path.endsWith(".rotor")).sort();
  return sheets.map((path) => ({
    path: path.replaceAll("\\", "/"),
    text: readFileSync(join(examples, folder, path), "utf8"),
  }));
}

const empty = [{ path: "book.rotor", text: 'shop "My shop" {\n  format: 1\n}\n' }];
const books = { "Tern Quay": book("tern-quay"), "Recipes by method": book("recipes"), "An empty book": empty };

const bundled = await build({
  entryPoints: [join(import.meta.dirname, "main.ts")],
  bundle: true,
  minify: true,
  format: "esm",
  target: "es2022",
  charset: "utf8",
  write: false,
  define: {
    BOOKS: JSON.stringify(books),
    PROGRAM: JSON.stringify(gzipSync(readFileSync(program), { level: 9 }).toString("base64")),
  },
});
// A script in a page ends at the first `</script`, wherever it stands.
const script = bundled.outputFiles[0].text.replaceAll("</script", "<\\/script");
const read = (name) => readFileSync(join(import.meta.dirname, name), "utf8");
const page = read("page.html")
  .replace("/*STYLE*/", () => read("page.css"))
  .replace("/*SCRIPT*/", () => script);
writeFileSync(out, page);
console.log(`${relative(process.cwd(), out)}: ${page.length} bytes`);
