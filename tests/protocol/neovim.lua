-- Opens a program in Neovim 0.7 with the server behind it, and writes what comes back as JSON to the file OUT.
local out = { notes = {} }

local function finish()
  local file = assert(io.open(vim.env.OUT, 'w'))
  file:write(vim.fn.json_encode(out))
  file:close()
  vim.cmd('qall!')
end

local function ask(client, method, params)
  local answer = client.request_sync(method, params, 20000, 0)
  if not answer then error('no answer to ' .. method) end
  if answer.err then error(method .. ': ' .. answer.err.message) end
  return answer.result
end

local ok, why = pcall(function()
  vim.cmd('edit ' .. vim.fn.fnameescape(vim.env.PROGRAM))
  local id = vim.lsp.start_client({
    name = 'blockwright',
    cmd = { vim.env.NODE, vim.env.SERVER, 'serve', '--stdio' },
    root_dir = vim.fn.fnamemodify(vim.env.PROGRAM, ':h'),
  })
  vim.lsp.buf_attach_client(0, id)
  local came = vim.wait(20000, function() return #vim.diagnostic.get(0) > 0 end, 50)
  if not came then error('no diagnostics came') end
  out.diagnostics = vim.tbl_map(
    function(one) return { line = one.lnum, code = one.user_data.lsp.code, message = one.message } end,
    vim.diagnostic.get(0)
  )
  local client = vim.lsp.get_client_by_id(id)
  local place = vim.fn.json_decode(vim.env.PLACE)
  local document = { uri = vim.uri_from_bufnr(0) }

  out.hover = ask(client, 'textDocument/hover', { textDocument = document, position = place })
  local range = { start = place, ['end'] = place }
  local actions = ask(client, 'textDocument/codeAction', {
    textDocument = document,
    range = range,
    context = { diagnostics = {} },
  })
  out.actions = vim.tbl_map(function(one) return one.title end, actions)
  vim.lsp.util.apply_workspace_edit(actions[1].edit, client.offset_encoding)
  out.repaired = vim.api.nvim_buf_get_lines(0, place.line, place.line + 1, false)[1]
  vim.wait(20000, function()
    for _, one in ipairs(vim.diagnostic.get(0)) do
      if one.lnum == place.line then return false end
    end
    return true
  end, 50)
  out.left = vim.tbl_map(function(one) return one.lnum end, vim.diagnostic.get(0))

  local last = vim.api.nvim_buf_line_count(0)
  vim.api.nvim_buf_set_lines(0, last, last, false, { 'helical' })
  vim.wait(200)
  local list = ask(client, 'textDocument/completion', {
    textDocument = document,
    position = { line = last, character = 7 },
  })
  out.completions = vim.tbl_map(function(one) return one.label end, list.items or list)
end)
if not ok then out.error = why end
finish()
