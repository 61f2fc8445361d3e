(comment) @comment.line

(block name: (string) @namespace)
(block name: (name) @namespace)
(fact name: (string) @variable.parameter)
(pin key: (key) @variable.builtin)
(pin name: (string) @variable.builtin)

(kind) @keyword
(key) @variable.other.member

(number) @constant.numeric
(grade) @constant.numeric
(unit) @type
[(date) (clock)] @string.special
(words) @constant
(reading scale: (_) @variable.parameter)
(string) @string

[":" ","] @punctuation.delimiter
["=>" "@" "±" "+/-" (operator) (coverage)] @operator
["to" "up" "from" "at" "on"] @keyword.operator
["{" "}" "(" ")"] @punctuation.bracket

[(junk) (unfinished)] @error
