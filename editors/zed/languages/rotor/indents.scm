(block "{" "}" @end) @indent
