/** Markdown of the program as elements. Names in it come from sheets: nothing in it is markup of its own or is loaded. */

import { Marked } from "marked";

const reader = new Marked({
  gfm: true,
  renderer: {
    html: ({ text }) => escaped(text),
    image: ({ text }) => escaped(text),
    link({ tokens }) {
      return this.parser.parseInline(tokens);
    },
  },
});

export function prose(markdown: string, element: "div" | "span" = "div"): HTMLElement {
  const whole = document.createElement(element);
  whole.className = "prose";
  const read = element === "span" ? reader.parseInline(markdown) : reader.parse(markdown);
  whole.innerHTML = read as string;
  return whole;
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
