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

--- Opens the page with which the server answers a command.
local function open_answer(server_command)
  return function(command, context)
    local client = assert(vim.lsp.get_client_by_id(context.client_id))
    local asked = { title = command.title, command = server_command, arguments = command.arguments }
    client:exec_cmd(asked, { bufnr = context.bufnr }, function(_, text)
      if type(text) == "string" then
        show_page(text)
      end
    end)
  end
end

--- A fix with places to fill: the first of them is selected, `<Tab>` goes on.
local function fill_in(command, context)
  local client = assert(vim.lsp.get_client_by_id(context.client_id))
  local uri, range, snippet = unpack(command.arguments)
  local encoding = client.offset_encoding
  vim.lsp.util.show_document({ uri = uri, range = { start = range.start, ["end"] = range.start } }, encoding, { focus = true })
  vim.lsp.util.apply_text_edits({ { range = range, newText = "" } }, vim.api.nvim_get_current_buf(), encoding)
  local line = vim.api.nvim_buf_get_lines(0, range.start.line, range.start.line + 1, false)[1] or ""
  -- The snippet is indented already, and Neovim indents each line of one by as much as the line that it begins in.
  local indent = line:match("^%s*")
  snippet = snippet:gsub("\n" .. indent, "\n")
  -- Normal mode has no cursor position after the last character; the snippet may begin there.
  local virtualedit = vim.wo.virtualedit
  vim.wo.virtualedit = "onemore"
  local column = vim.str_byteindex(line, encoding, range.start.character, false)
  vim.api.nvim_win_set_cursor(0, { range.start.line + 1, column })
  vim.snippet.expand(snippet)
  vim.wo.virtualedit = virtualedit
end

--- What the server answers of the item at the cursor, in a window beside the sheet.
local function show(client, buffer, server_command, empty)
  local position = vim.lsp.util.make_position_params(0, client.offset_encoding).position
  local asked = { title = server_command, command = server_command, arguments = { vim.uri_from_bufnr(buffer), position } }
  client:exec_cmd(asked, { bufnr = buffer }, function(_, text)
    if type(text) == "string" then
      show_page(text)
    else
      vim.notify(empty)
    end
  end)
end

--- A sheet that was begun: into the buffer where that is empty, else into a file of its own.
local function write_begun(client, buffer, begun)
  local lines = vim.api.nvim_buf_get_lines(buffer, 0, -1, false)
  local uri = vim.uri_from_bufnr(buffer)
  if vim.trim(table.concat(lines)) ~= "" then
    if type(begun.uri) ~= "string" then
      vim.notify("A new sheet needs a book: open a file of one first.")
      return
    end
    uri = begun.uri
    vim.cmd.edit(vim.uri_to_fname(uri))
  end
  local start = { line = 0, character = 0 }
  local snippet = type(begun.snippet) == "string" and begun.snippet or begun.text
  fill_in({ arguments = { uri, { start = start, ["end"] = start }, snippet } }, { client_id = client.id })
end

--- A sheet of a kind, or one from a rotor or a setup of the book, chosen from a list.
local function new_sheet(client, buffer)
  local uri = vim.uri_from_bufnr(buffer)
  local function ask(command, arguments, answered)
    client:exec_cmd({ title = command, command = command, arguments = arguments }, { bufnr = buffer }, function(_, answer)
      if answer then
        answered(answer)
      end
    end)
  end
  ask("rotorbook.beginnings", { uri }, function(all)
    local format = function(one) return one.from and one.title .. ": " .. one.from or one.title end
    vim.ui.select(all, { prompt = "Begin a sheet", format_item = format }, function(one)
      if one and one.start then
        vim.ui.input({ prompt = "Name of the new " .. one.start .. ": " }, function(name)
          if name then
            ask("rotorbook.begin", { uri, one.start, name }, function(begun) write_begun(client, buffer, begun) end)
          end
        end)
      elseif one then
        write_begun(client, buffer, one)
      end
    end)
  end)
end

local commands = {
  ["rotorbook.showPlaces"] = show_places,
  ["rotorbook.openConsequences"] = open_answer("rotorbook.consequences"),
  ["rotorbook.openPage"] = open_answer("rotorbook.explain"),
  ["rotorbook.fillIn"] = fill_in,
}

---@type vim.lsp.Config
return {
  cmd = { "rotorbook", "lsp" },
  filetypes = { "rotor" },
  get_language_id = function() return "rotorbook" end,
  root_markers = { "book.rotor", ".git" },
  settings = {
    -- inlayHints: "all", "results" or "off"; errorDelay: milliseconds; consequences: "commit", "save" or "off"
    rotorbook = { inlayHints = "all", errorDelay = 1000, consequences = "commit" },
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
    command("RotorbookShow", "Show all results of the item at the cursor", function()
      show(client, buffer, "rotorbook.show", "This sheet has no item yet.")
    end)
    command("RotorbookConsequences", "Show what an edit of the item at the cursor moves", function()
      show(client, buffer, "rotorbook.consequences", "Nothing has moved since the last commit or save.")
    end)
    command("RotorbookNew", "Begin a sheet of a kind, or from a rotor or a setup of the book", function() new_sheet(client, buffer) end)
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
