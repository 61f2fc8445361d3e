--- The language server of Rotorbook, for `vim.lsp.enable("rotorbook")`.

--- Behind a lens that counts where an item is used: its places in the quickfix list.
local function show_places(command, context)
  local client = assert(vim.lsp.get_client_by_id(context.client_id))
  local places = vim.lsp.util.locations_to_items(command.arguments[3], client.offset_encoding)
  vim.fn.setqflist({}, " ", { title = command.title, items = places })
  vim.cmd.copen()
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
    local page = vim.api.nvim_create_buf(false, true)
    vim.api.nvim_buf_set_lines(page, 0, -1, false, vim.split(text, "\n"))
    vim.bo[page].filetype, vim.bo[page].bufhidden, vim.bo[page].modifiable = "markdown", "wipe", false
    vim.api.nvim_open_win(page, false, { split = "right" })
  end)
end

---@type vim.lsp.Config
return {
  cmd = { "rotorbook", "lsp" },
  filetypes = { "rotor" },
  get_language_id = function() return "rotorbook" end,
  root_markers = { "book.rotor", ".git" },
  settings = {
    -- "all", "results" or "off"
    rotorbook = { inlayHints = "all" },
  },
  commands = { ["rotorbook.showPlaces"] = show_places },
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
