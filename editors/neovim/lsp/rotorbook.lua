--- The language server of Rotorbook, for `vim.lsp.enable("rotorbook")`.

--- Behind a lens that counts where an item is used: its places in the quickfix list.
local function show_places(command, context)
  local client = assert(vim.lsp.get_client_by_id(context.client_id))
  local places = vim.lsp.util.locations_to_items(command.arguments[3], client.offset_encoding)
  vim.fn.setqflist({}, " ", { title = command.title, items = places })
  vim.cmd.copen()
end

--- Markdown in a window beside the sheet.
local function show_page(text)
  local page = vim.api.nvim_create_buf(false, true)
  vim.api.nvim_buf_set_lines(page, 0, -1, false, vim.split(text, "\n"))
  vim.bo[page].filetype, vim.bo[page].bufhidden, vim.bo[page].modifiable = "markdown", "wipe", false
  vim.api.nvim_open_win(page, false, { split = "right" })
end

--- What a code means, why it matters at the bench, and how to put it right.
local function open_page(command, context)
  local client = assert(vim.lsp.get_client_by_id(context.client_id))
  local asked = { title = command.title, command = "rotorbook.explain", arguments = { command.arguments[1] } }
  client:exec_cmd(asked, { bufnr = context.bufnr }, function(_, text)
    if type(text) == "string" then
      show_page(text)
    end
  end)
end

--- A fix with places to fill: the cursor stands at the first of them, `<Tab>` goes on.
local function fill_in(command, context)
  local client = assert(vim.lsp.get_client_by_id(context.client_id))
  local uri, range, snippet = unpack(command.arguments)
  local location = { uri = uri, range = { start = range.start, ["end"] = range.start } }
  vim.lsp.util.show_document(location, client.offset_encoding, { focus = true })
  local edits = { { range = range, newText = "" } }
  vim.lsp.util.apply_text_edits(edits, vim.api.nvim_get_current_buf(), client.offset_encoding)
  -- The cursor stands before a line end only while text is put in.
  local line = vim.api.nvim_get_current_line()
  local column = vim.str_byteindex(line, client.offset_encoding, range.start.character, false)
  vim.api.nvim_feedkeys(vim.api.nvim_replace_termcodes(column >= #line and "<Esc>A" or "<Esc>i", true, false, true), "n", false)
  vim.schedule(function() vim.snippet.expand(snippet) end)
end

--- All results of the item at the cursor, in a window beside the sheet.
local function show_results(client, buffer)
  local position = vim.lsp.util.make_position_params(0, client.offset_encoding).position
  local arguments = { vim.uri_from_bufnr(buffer), position }
  client:exec_cmd({ title = "Show results", command = "rotorbook.show", arguments = arguments }, { bufnr = buffer }, function(_, text)
    if type(text) ~= "string" then
      vim.notify("Put the cursor into a rotor, a setup or a record.")
      return
    end
    show_page(text)
  end)
end

local commands = {
  ["rotorbook.showPlaces"] = show_places,
  ["rotorbook.openPage"] = open_page,
  ["rotorbook.fillIn"] = fill_in,
}

---@type vim.lsp.Config
return {
  cmd = { "rotorbook", "lsp" },
  filetypes = { "rotor" },
  get_language_id = function() return "rotorbook" end,
  root_markers = { "book.rotor", ".git" },
  settings = {
    -- inlayHints: "all", "results" or "off"; errorDelay: milliseconds
    rotorbook = { inlayHints = "all", errorDelay = 1000 },
  },
  commands = commands,
  init_options = { commands = vim.tbl_keys(commands) },
  on_attach = function(client, buffer)
    local function command(name, description, action)
      vim.api.nvim_buf_create_user_command(buffer, name, action, { desc = description })
    end
    local function on_sheet(server_command)
      return function()
        local arguments = { vim.uri_from_bufnr(buffer) }
        client:exec_cmd({ title = server_command, command = server_command, arguments = arguments }, { bufnr = buffer })
      end
    end
    command("RotorbookShow", "Show all results of the item at the cursor", function() show_results(client, buffer) end)
    command("RotorbookPinAll", "Refresh all pinned results of this sheet", on_sheet("rotorbook.pinAll"))
    command("RotorbookFixAll", "Fix everything that has one obvious fix", on_sheet("rotorbook.fixAll"))
    -- So that what CTRL-X CTRL-O offers is written as a whole, with its unit and its braces; plain texts too, of which
    -- Neovim by itself takes the first word.
    local function whole(item)
      return item.insertTextFormat ~= 2 and item.textEdit and { word = item.textEdit.newText } or {}
    end
    vim.lsp.completion.enable(true, client.id, buffer, { convert = whole })
    -- One offer alone is to be accepted like one of several.
    if vim.go.completeopt == vim.api.nvim_get_option_info2("completeopt", {}).default then
      vim.bo[buffer].completeopt = "menuone,popup"
    end
    if vim.g.rotorbook_inlay_hints ~= false then
      vim.lsp.inlay_hint.enable(true, { bufnr = buffer })
    end
  end,
}
