(block kind: (kind) @context name: (_)? @name) @item
