-- Neovim with the package installed as its README says: `nvim --headless -c "luafile neovim.lua"`, in a copy of the book.

local ROTOR, SETUP = "rotors/fan-wheel-315.rotor", "setups/fan-wheel-315-soft-bench.rotor"
local PATIENCE = 20000

local function fail(what)
  io.stderr:write("not so: " .. what .. "\n")
  os.exit(1)
end

local function wait_for(what, condition)
  if not vim.wait(PATIENCE, condition, 20) then
    fail(what)
  end
end

local function lines(buffer)
  return vim.api.nvim_buf_get_lines(buffer, 0, -1, false)
end

--- The row, from 0, of the first line that holds a text.
local function row_of(buffer, text)
  for number, line in ipairs(lines(buffer)) do
    if line:find(text, 1, true) then
      return number - 1
    end
  end
  fail("a line holds " .. text)
end

local function replace(buffer, text, instead)
  local row = row_of(buffer, text)
  local line = lines(buffer)[row + 1]
  local from, to = line:find(text, 1, true)
  vim.api.nvim_buf_set_text(buffer, row, from - 1, row, to, { instead })
end

local function has_code(buffer, code)
  for _, diagnostic in ipairs(vim.diagnostic.get(buffer)) do
    if diagnostic.code == code then
      return true
    end
  end
  return false
end

local function open(path)
  vim.cmd.edit(path)
  local buffer = vim.api.nvim_get_current_buf()
  if vim.bo.filetype ~= "rotor" then
    fail("the type of the file is found: " .. vim.bo.filetype)
  end
  wait_for("the server answers", function()
    local client = vim.lsp.get_clients({ bufnr = buffer })[1]
    return client and client.initialized
  end)
  return buffer
end

local function at(buffer, text, behind)
  local row = row_of(buffer, text)
  local column = lines(buffer)[row + 1]:find(text, 1, true) - 1
  vim.api.nvim_win_set_cursor(0, { row + 1, behind and column + #text or column })
end

local function request(buffer, method, more)
  local client = vim.lsp.get_clients({ bufnr = buffer })[1]
  local parameters = vim.lsp.util.make_position_params(0, client.offset_encoding)
  local answers = vim.lsp.buf_request_sync(buffer, method, vim.tbl_extend("force", parameters, more or {}), PATIENCE)
  local answer = answers and answers[client.id]
  if not answer or answer.err then
    fail(method .. " is answered: " .. vim.inspect(answer))
  end
  return answer.result
end

local function shown(buffer)
  local labels = {}
  for _, hint in ipairs(vim.lsp.inlay_hint.get({ bufnr = buffer })) do
    local label = hint.inlay_hint.label
    if type(label) == "table" then
      label = vim.iter(label):map(function(part) return part.value end):join("")
    end
    table.insert(labels, label)
  end
  return table.concat(labels, "\n")
end

local steps = {}

function steps.a_diagnostic_comes_and_goes_while_typing(rotor)
  replace(rotor, "3550 rpm", "3550 rp")
  wait_for("an unknown unit is told", function() return has_code(rotor, "unknown-unit") end)
  replace(rotor, "3550 rp", "3550 rpm")
  wait_for("it goes with its cause", function() return #vim.diagnostic.get(rotor) == 0 end)
end

--- The hint whose label holds a text, with what would be written when it is accepted.
local function hint_of(buffer, text)
  for _, found in ipairs(vim.lsp.inlay_hint.get({ bufnr = buffer })) do
    if vim.inspect(found.inlay_hint.label):find(text, 1, true) then
      local client = assert(vim.lsp.get_client_by_id(found.client_id))
      local answer = client:request_sync("inlayHint/resolve", found.inlay_hint, PATIENCE, buffer)
      return answer and answer.result, client.offset_encoding
    end
  end
end

function steps.a_hint_is_written_down(rotor)
  local before = lines(rotor)
  local row = row_of(rotor, "permissible unbalance => 81.7 g·mm")
  vim.api.nvim_buf_set_lines(rotor, row, row + 1, false, {})
  wait_for("a result is shown behind its line", function() return shown(rotor):find("81.7 g·mm", 1, true) end)
  local hint, encoding = hint_of(rotor, "81.7 g·mm")
  if not (hint and hint.textEdits) then
    fail("the hint can be written down: " .. vim.inspect(hint))
  end
  vim.lsp.util.apply_text_edits(hint.textEdits, rotor, encoding)
  -- The same lines as before, with the result right behind the line that it stood at.
  local expected = vim.deepcopy(before)
  local line = table.remove(expected, row + 1)
  table.insert(expected, row_of(rotor, "    grade: G 6.3") + 2, line)
  if not vim.deep_equal(expected, lines(rotor)) then
    fail("the hint is written in full:\n" .. table.concat(lines(rotor), "\n"))
  end
  wait_for("a pinned one is not shown twice", function() return not shown(rotor):find("81.7 g·mm", 1, true) end)
  vim.api.nvim_buf_set_lines(rotor, 0, -1, false, before)
end

function steps.hover_shows_the_formula(rotor)
  at(rotor, "permissible unbalance")
  local hover = request(rotor, "textDocument/hover")
  local text = hover and hover.contents.value or ""
  if not (text:find("9549", 1, true) and text:find("ISO 21940", 1, true)) then
    fail("hover shows formula and source: " .. text)
  end
end

function steps.completion_offers_the_missing_key(_, setup)
  replace(setup, "  balancing speed: 1150 rpm", "  bal")
  at(setup, "  bal", true)
  local items = request(setup, "textDocument/completion")
  items = items.items or items
  local found = vim.iter(items):any(function(item) return item.label:find("balancing speed", 1, true) == 1 end)
  if not found then
    fail("`balancing speed` is offered where it is missing")
  end
  replace(setup, "  bal", "  balancing speed: 1150 rpm")
end

function steps.a_fix_is_applied(rotor)
  replace(rotor, "81.7 g·mm", "79.2 g·mm")
  wait_for("a stale result is told", function() return has_code(rotor, "pinned-result-stale") end)
  at(rotor, "79.2 g·mm")
  vim.lsp.buf.code_action({
    apply = true,
    filter = function(action) return action.kind == "quickfix" and action.title:find("81.7", 1, true) end,
  })
  wait_for("the fix writes the result", function()
    return table.concat(lines(rotor), "\n"):find("permissible unbalance => 81.7 g·mm", 1, true)
  end)
  wait_for("and the diagnostic goes", function() return #vim.diagnostic.get(rotor) == 0 end)
end

--- The text of a sheet, line by line.
local function text_of(buffer)
  return table.concat(lines(buffer), "\n")
end

function steps.a_fix_stops_at_what_is_to_be_filled_in(rotor)
  local before = lines(rotor)
  local row = row_of(rotor, "  datum: ")
  vim.api.nvim_buf_set_lines(rotor, row, row + 1, false, {})
  wait_for("a missing datum is told", function() return has_code(rotor, "datum-missing") end)
  for _, diagnostic in ipairs(vim.diagnostic.get(rotor)) do
    if diagnostic.code == "datum-missing" then
      vim.api.nvim_win_set_cursor(0, { diagnostic.lnum + 1, diagnostic.col })
    end
  end
  vim.lsp.buf.code_action({ apply = true, filter = function(action) return action.title == "Write `datum: ?`" end })
  wait_for("the line is written with its stop", function() return text_of(rotor):find("\n  datum: ?\n", 1, true) end)
  if not vim.snippet.active() then
    fail("the place to fill in is a stop")
  end
  vim.snippet.stop()
  vim.api.nvim_buf_set_lines(rotor, 0, -1, false, before)
  wait_for("all is as it was", function() return #vim.diagnostic.get(rotor) == 0 end)
end

function steps.what_an_edit_moves_in_another_sheet_is_seen(rotor)
  local before = lines(rotor)
  wait_for("nothing has moved yet", function() return not shown(rotor):find("moves ", 1, true) end)
  replace(rotor, "grade: G 6.3", "grade: G 3.15")
  wait_for("the line says what it moves", function() return shown(rotor):find("moves 3 sheets", 1, true) end)
  at(rotor, "G 3.15")
  local hover = request(rotor, "textDocument/hover")
  local text = hover and hover.contents.value or ""
  if not (text:find("before", 1, true) and text:find("fan wheel 315 on the soft bench", 1, true)) then
    fail("hover shows before and after in other sheets: " .. text)
  end
  vim.api.nvim_buf_set_lines(rotor, 0, -1, false, before)
  wait_for("it goes with the edit", function() return not shown(rotor):find("moves ", 1, true) end)
end

function steps.a_sheet_is_begun_from_a_rotor(rotor)
  at(rotor, "fan wheel 315")
  local title = 'Set this rotor up on "stiff bench"'
  vim.lsp.buf.code_action({ apply = true, filter = function(action) return action.title == title end })
  local function name() return vim.api.nvim_buf_get_name(0) end
  wait_for("a sheet of its own is opened", function()
    return name():find("setups/fan-wheel-315-on-the-stiff-bench.rotor", 1, true)
  end)
  wait_for("it has what is known, and stops at what is not", function()
    local text = text_of(0)
    return text:find('\n  rotor: "fan wheel 315"\n', 1, true)
      and text:find("\n  balancing speed: ? ", 1, true)
      and vim.snippet.active()
  end)
  vim.snippet.stop()
  local path = name()
  vim.cmd("silent bwipeout!")
  os.remove(path)
  vim.api.nvim_set_current_buf(rotor)
end

function steps.a_new_sheet_of_a_kind_is_begun(rotor)
  local select, input = vim.ui.select, vim.ui.input
  vim.ui.select = function(items, options, chosen)
    for _, one in ipairs(items) do
      if options.format_item(one) == "New machine" then
        return chosen(one)
      end
    end
    fail("a machine can be begun")
  end
  vim.ui.input = function(_, given) given("test bench") end
  vim.cmd.RotorbookNew()
  wait_for("a sheet of its own is opened", function()
    return vim.api.nvim_buf_get_name(0):find("machines/test-bench.rotor", 1, true)
  end)
  wait_for("it stops at the first place to fill in", function()
    return text_of(0):find('machine "test bench" {\n  supports: ? # ', 1, true) and vim.snippet.active()
  end)
  vim.ui.select, vim.ui.input = select, input
  vim.snippet.stop()
  local path = vim.api.nvim_buf_get_name(0)
  vim.cmd("silent bwipeout!")
  os.remove(path)
  vim.api.nvim_set_current_buf(rotor)
end

function steps.the_part_of_a_value_that_comes_next_is_told(rotor)
  at(rotor, "weighed: 2.73 kg at ", true)
  local help = request(rotor, "textDocument/signatureHelp")
  if not (help and help.activeParameter == 1 and help.signatures[1].label:find("mass at place", 1, true)) then
    fail("the part is told: " .. vim.inspect(help))
  end
end

function steps.format_leaves_a_clean_file(rotor)
  local before = lines(rotor)
  replace(rotor, "  drawing: ", "      drawing:    ")
  vim.lsp.buf.format({ bufnr = rotor, timeout_ms = PATIENCE })
  if not vim.deep_equal(before, lines(rotor)) then
    fail("format takes the spaces away again")
  end
  vim.cmd("silent write")
end

function steps.rename_crosses_files(rotor, setup)
  vim.api.nvim_set_current_buf(rotor)
  at(rotor, "fan wheel 315")
  vim.lsp.buf.rename("fan wheel 316")
  wait_for("the setup follows", function()
    return table.concat(lines(setup), "\n"):find('rotor: "fan wheel 316"', 1, true)
  end)
  vim.cmd("silent wall")
end

function steps.the_sheet_is_coloured(rotor)
  vim.api.nvim_set_current_buf(rotor)
  vim.treesitter.get_parser(rotor, "rotor"):parse()
  local captures = vim.treesitter.get_captures_at_pos(rotor, row_of(rotor, "drawing:"), 2)
  if not vim.iter(captures):any(function(capture) return capture.capture == "property" end) then
    fail("a key is coloured as one: " .. vim.inspect(captures))
  end
end

vim.opt.swapfile = false

local rotor = open(ROTOR)
local setup = open(SETUP)
vim.api.nvim_set_current_buf(rotor)
for _, step in ipairs({
  "a_diagnostic_comes_and_goes_while_typing",
  "a_hint_is_written_down",
  "hover_shows_the_formula",
  "completion_offers_the_missing_key",
  "a_fix_is_applied",
  "a_fix_stops_at_what_is_to_be_filled_in",
  "what_an_edit_moves_in_another_sheet_is_seen",
  "a_sheet_is_begun_from_a_rotor",
  "a_new_sheet_of_a_kind_is_begun",
  "the_part_of_a_value_that_comes_next_is_told",
  "format_leaves_a_clean_file",
  "rename_crosses_files",
  "the_sheet_is_coloured",
}) do
  if step:find("completion") then
    vim.api.nvim_set_current_buf(setup)
  else
    vim.api.nvim_set_current_buf(rotor)
  end
  steps[step](rotor, setup)
  io.stdout:write("  " .. step:gsub("_", " ") .. "\n")
end
vim.lsp.stop_client(vim.lsp.get_clients())
os.exit(0)
