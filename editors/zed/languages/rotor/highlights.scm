(comment) @comment

(kind) @keyword
(key) @property

(number) @number
(grade) @number
(unit) @type
[(date) (clock)] @string.special
(words) @constant
(string) @string
(reading scale: (_) @variable)

(block name: (_) @title)
(fact name: (string) @variable)
(pin key: (key) @variable.special)
(pin name: (string) @variable.special)

[":" ","] @punctuation.delimiter
["=>" "@" "±" "+/-" (operator) (coverage)] @operator
["to" "up" "from" "at" "on"] @operator
["{" "}" "(" ")"] @punctuation.bracket
