vim.filetype.add({ extension = { rotor = "rotor" } })
