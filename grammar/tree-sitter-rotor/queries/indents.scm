(block) @indent.begin
(block "}" @indent.branch @indent.end)
(comment) @indent.auto
