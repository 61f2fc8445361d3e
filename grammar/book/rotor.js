// Colours for sheets. It knows the form of lines and no list of words: heads of blocks, keys, numbers, texts, comments.
hljs.registerLanguage("rotor", () => ({
  contains: [
    { className: "comment", begin: /#/, end: /$/ },
    { className: "keyword", begin: /^\s*[a-z][a-z ]*(?=[^:\n]*\{\s*(#.*)?$)/ },
    { className: "attr", begin: /^\s*[^:#={}\n]+(?=:)/ },
    { className: "attr", begin: /^\s*[^:#={}\n]+(?==>)/ },
    { className: "string", begin: /"/, end: /"|$/ },
    { className: "number", begin: /[-+]?\b\d+(\.\d+)?/ },
  ],
}));
document.querySelectorAll("code.language-rotor").forEach((block) => hljs.highlightBlock(block));
