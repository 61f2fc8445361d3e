local rotorbook = {}

--- How far a line without its strings and comment opens or closes blocks.
local function braces(line)
  local code = line:gsub('"[^"]*"', ""):gsub("#.*", "")
  return code:match("{%s*$") ~= nil, code:match("^%s*}") ~= nil
end

--- `indentexpr`: two more than a line that opens a block, two less where one is closed.
function rotorbook.indent()
  local above = vim.fn.prevnonblank(vim.v.lnum - 1)
  if above == 0 then
    return 0
  end
  local opens = braces(vim.fn.getline(above))
  local _, closes = braces(vim.fn.getline(vim.v.lnum))
  local indent = vim.fn.indent(above)
  return math.max(0, indent + (opens and 2 or 0) - (closes and 2 or 0))
end

return rotorbook
