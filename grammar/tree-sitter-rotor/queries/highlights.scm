(comment) @comment

(kind) @keyword
(block name: (name) @label)
(block name: (string) @label)

(key) @property
(fact name: (string) @variable)
(pin key: (key) @variable.builtin)
(pin name: (string) @variable.builtin)

(number) @number
(unit) @type
(grade) @number
(date) @constant
(clock) @constant
(words) @constant
(string) @string
(reading scale: (_) @variable)

(fact name: (string) @variable)
(block name: (string) @label)

[":" "=>" "," "@" "±" "+/-" (operator) (coverage)] @operator
["to" "up" "from" "at" "on"] @operator
["{" "}" "(" ")"] @punctuation.bracket

[(junk) (unfinished)] @error
