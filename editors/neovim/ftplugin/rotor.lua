-- What belongs to any sheet: comments, indents, and colours where the parser has been compiled.
vim.bo.commentstring = "# %s"
vim.bo.comments = ":#"
vim.bo.expandtab = true
vim.bo.shiftwidth = 2
vim.bo.softtabstop = 2
vim.bo.indentexpr = "v:lua.require'rotorbook'.indent()"
vim.bo.indentkeys = "o,O,0}"

if pcall(vim.treesitter.start) then
  vim.wo[0][0].foldmethod = "expr"
  vim.wo[0][0].foldexpr = "v:lua.vim.treesitter.foldexpr()"
  vim.wo[0][0].foldlevel = 99
end

vim.b.undo_ftplugin = "setlocal commentstring< comments< expandtab< shiftwidth< softtabstop< indentexpr< indentkeys<"
  .. " foldmethod< foldexpr< foldlevel<"
