(block) @indent
(block "}" @outdent)
