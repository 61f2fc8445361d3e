/**
 * The .rotor format for editors that colour, fold and indent by tree-sitter.
 *
 * ../README.md says what the forms mean, ../rotor.pest is what the program reads by. The structure here is that of
 * lines: `key: value`, `name => value`, `kind name {` … `}`. Keys, units and choices are not known; kinds are, because
 * a heading cannot be told apart from its name without them. vocabulary.json is written from the program's own table.
 */

const vocabulary = require("./vocabulary.json");

const comma = /,[ \t]+/;
const letters = "[\\p{L}°%]+";
const power = "([²³⁴-⁹]|\\^?[0-9])?";
const atom = `${letters}${power}`;
const product = `${atom}([·*.]${atom})*`;

const withoutSpace = /[0-9]+(\.[0-9]+)?[\p{L}°%][^\s"#:=,(){}@±]*/;

const separated = (rule, separator) => seq(rule, repeat(seq(separator, rule)));

/** The words of a phrase, each a token of its own. */
const phrase = (words) => {
  const parts = words.split(" ");
  return parts.length === 1 ? parts[0] : seq(...parts);
};

const kindWords = [...new Set(vocabulary.kinds.flatMap((words) => words.split(" ")))];

module.exports = grammar({
  name: "rotor",

  extras: ($) => [/[ \t]/, $.comment],

  conflicts: ($) => [[$.kind, $._word], [$.fact, $.unfinished], [$.pin, $.unfinished]],

  rules: {
    source_file: ($) =>
      seq(
        repeat($._line_end),
        optional(seq($._line, repeat(seq(repeat1($._line_end), $._line)), repeat($._line_end))),
      ),

    _line: ($) => choice($.block, $.fact, $.pin, $.unfinished, $.junk),

    block: ($) =>
      seq(
        choice(seq($._heading, "{"), alias("{", $.junk)),
        choice(
          seq(optional($.junk), $._line_end, lines($), "}", optional($.junk)),
          seq(alias($._closed_on_its_line, $.junk), optional($.junk)),
        ),
      ),

    // What no heading should be opens a block all the same, so that its `}` has a fellow.
    _heading: ($) =>
      choice(
        seq(field("kind", $.kind), field("name", optional(choice($.name, $.string)))),
        prec.dynamic(-1, choice($.unfinished, alias($._heading_with_colon, $.unfinished), $.junk)),
      ),
    _heading_with_colon: ($) => seq($.kind, ":", choice($.words, $.string)),

    // `{ at: 3 mm }`, `{}`: what opens and closes on one line is wrong there, and nowhere else.
    _closed_on_its_line: ($) => seq(repeat(choice($.junk, seq("{", $._closed_on_its_line))), "}"),

    fact: ($) => seq($._head, ":", $._behind),
    pin: ($) => seq($._head, "=>", $._behind),
    _behind: ($) => choice(seq(field("value", choice($._value, $.unknown)), optional($._no_value)), $._no_value),
    // Known to be missing.
    unknown: (_) => "?",
    _no_value: ($) => repeat1(choice($.junk, seq("{", alias($._closed_on_its_line, $.junk)))),

    _head: ($) =>
      choice(
        seq(field("key", $.key), optional(field("name", choice($.string, alias($._digits, $.name))))),
        field("name", $.string),
      ),
    // `add place 6`
    _digits: (_) => /[0-9]{1,3}/,
    key: ($) => repeat1($._word),

    kind: (_) => choice(...vocabulary.kinds.map(phrase)),
    name: ($) => $._word,

    _word: ($) => choice($._plain_word, ...kindWords),
    _plain_word: (_) => /\p{L}[\p{L}\p{M}\p{Nd}_-]*/,

    // What is wrong is kept within its line, so that the lines around it keep their colours.
    unfinished: ($) => seq($._head, optional(choice($.junk, ":", "=>"))),
    // Braces and `#` in a string are text; a string that is not closed goes to the end of its line.
    junk: (_) => token(prec(-5, choice(/([^\s#{}"]|"[^"\n]*")([^\n#{}"]|"[^"\n]*")*("[^"\n]*)?/, /"[^"\n]*/))),

    // Values

    _value: ($) => separated($._item, alias(token(comma), ",")),

    _item: ($) =>
      choice($.string, $._amount, $.range, $.reading, $.weighing, $.places, $.grade, $.date, $.clock, $.words),

    range: ($) => choice(seq($._sum, "to", $._sum), seq("up", "to", $._sum), seq("from", $._sum)),

    reading: ($) =>
      seq(
        $._amount,
        choice(
          seq("on", field("scale", choice(alias($._scale_word, $.name), $.string)), optional(seq("@", $._amount))),
          seq("@", $._amount),
        ),
      ),
    _scale_word: (_) => /\p{L}[\p{L}\p{M}\p{Nd}_-]*/,

    weighing: ($) => seq($._amount, "at", $._amount),
    places: ($) => seq($.number, "from", $._amount),

    grade: ($) => choice(token(prec(2, /G[0-9]+(\.[0-9]+)?/)), seq("G", $.number)),
    date: (_) => /[0-9]{4}-[0-9]{2}-[0-9]{2}/,
    clock: ($) => choice(/(0?[1-9]|1[0-2]):[0-5][0-9]/, seq($.number, "o'clock")),

    _amount: ($) => choice($._sum, $.limited),
    limited: ($) => seq($._factor, choice("±", "+/-"), $.quantity, optional($.coverage)),
    coverage: (_) => /\([ \t]*k[ \t]*=[ \t]*2[ \t]*\)/,

    _sum: ($) => choice($._factor, $.arithmetic),
    arithmetic: ($) =>
      choice(
        prec.left(2, seq($._sum, field("operator", alias(token(/[*\/][ \t]+/), $.operator)), $._sum)),
        prec.left(1, seq($._sum, field("operator", alias(token(/[+-][ \t]+/), $.operator)), $._sum)),
      ),
    _factor: ($) => choice($.quantity, $.group, $.negative),
    negative: ($) => seq("-", choice(alias($.immediate_quantity, $.quantity), $.immediate_group)),
    immediate_quantity: ($) => choice(
      seq(alias($.immediate_number, $.number), optional($.unit)),
      alias($._immediate_without_space, $.junk),
    ),
    immediate_number: (_) => token.immediate(/[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?/),
    immediate_group: ($) => seq(token.immediate("("), $._sum, ")"),
    group: ($) => seq("(", $._sum, ")"),

    quantity: ($) => choice(seq($.number, optional($.unit)), alias($._without_space, $.junk)),
    number: (_) => /[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?/,
    // `3mm`, `12O`
    _without_space: (_) => token(withoutSpace),
    _immediate_without_space: (_) => token.immediate(withoutSpace),
    // What is read for an unbalance is one unit per another: `mm/s per kg·mm`.
    unit: (_) =>
      seq(
        choice("1/min", new RustRegex(`${product}(/${product})?`)),
        optional(seq("per", new RustRegex(`[a-zA-Z]+[·*.]${product}`))),
      ),

    string: (_) => /"([^"\n]|"")*"/,

    // A choice, or the name of one word; the schema decides.
    words: ($) =>
      seq(
        choice($._bare, "G", seq(choice("up", "from", "to", seq("up", "to")), $._bare)),
        repeat(choice($._bare, $._further)),
      ),
    _bare: (_) => token(prec(-1, choice(/\p{L}[^\s"#:={},]*/, "1/min"))),
    _further: (_) => token(prec(-2, /[^\s"#:={},]+/)),

    comment: (_) => token(prec(1, /#[^\n]*/)),
    _line_end: (_) => /\r*\n/,
  },
});

/** Lines, with blank ones before, between and after. */
function lines($) {
  return seq(repeat($._line_end), repeat(seq($._line, repeat1($._line_end))));
}
