(block) @class.around
(fact value: (_) @entry.inside) @entry.around
(pin value: (_) @entry.inside) @entry.around
(comment) @comment.inside
(comment)+ @comment.around
