/** The frame of what the panel shows, in the colours of the editor. */

const STYLE = `
  body { padding: 0 1.4em 2em; line-height: 1.5; color: var(--vscode-editor-foreground); }
  h1 { font-size: 1.35em; margin: 1em 0 0.4em; }
  h2 { font-size: 1.12em; margin: 1.4em 0 0.4em; }
  h1, h2 { font-weight: 600; }
  table { border-collapse: collapse; width: 100%; }
  th, td { text-align: left; vertical-align: top; padding: 0.25em 1em 0.25em 0; }
  th, td { border-bottom: 1px solid var(--vscode-widget-border, rgba(128, 128, 128, 0.35)); }
  th { font-weight: 600; }
  code { font-family: var(--vscode-editor-font-family); font-size: 0.95em; }
  pre { white-space: pre-wrap; padding: 0.5em 0.8em; background: var(--vscode-textCodeBlock-background); }
  pre code { background: none; }
`;

export function page(body: string): string {
  const policy = "default-src 'none'; style-src 'unsafe-inline'";
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<style>${STYLE}</style>
</head>
<body>${body}</body>
</html>`;
}
