(comment) @comment @spell

(kind) @keyword.type
(block name: (_) @module)

(key) @property
(fact name: (string) @variable.member)
(pin key: (key) @variable.builtin)
(pin name: (string) @variable.builtin)

(number) @number
(unit) @type
(grade) @number
[(date) (clock)] @string.special
(words) @constant
(string) @string
(reading scale: (_) @variable.member)

; Later patterns win over the one for strings.
(block name: (string) @module)
(fact name: (string) @variable.member)
(pin name: (string) @variable.builtin)

[":" ","] @punctuation.delimiter
["=>" "@" "±" "+/-" (operator) (coverage)] @operator
["to" "up" "from" "at" "on"] @keyword.operator
["{" "}" "(" ")"] @punctuation.bracket

[(junk) (unfinished)] @comment.error
