-- Neovim's own protocol client at work: sees what is wrong, asks about a word, mends by quick fixes alone, looks again.
-- In: SERVER (words of a command, one a line), BOOK, ANSWER (a file to write).
local answer = { seen = {}, applied = {} }
local function finish()
  local file = io.open(vim.env.ANSWER, "w")
  file:write(vim.fn.json_encode(answer))
  file:close()
  vim.cmd("qall!")
end

vim.cmd("edit " .. vim.fn.fnameescape(vim.env.BOOK))
local client = vim.lsp.start_client({ name = "waterlore", cmd = vim.split(vim.env.SERVER, "\n"), root_dir = vim.fn.fnamemodify(vim.env.BOOK, ":h") })
vim.lsp.buf_attach_client(0, client)

local function diagnostics() return vim.diagnostic.get(0) end
local function codes()
  local list = {}
  for _, one in ipairs(diagnostics()) do table.insert(list, one.code or one.user_data.lsp.code) end
  table.sort(list)
  return list
end
local function ask(method, params)
  for _, one in pairs(vim.lsp.buf_request_sync(0, method, params, 10000) or {}) do
    if one.result ~= nil and one.result ~= vim.NIL then return one.result end
  end
end

-- Lenses come when all is known; what was found came before them.
local function settled()
  ask("textDocument/codeLens", { textDocument = vim.lsp.util.make_text_document_params(0) })
  vim.wait(100, function() return false end, 20)
end

vim.wait(10000, function() return #codes() > 0 end, 20)
settled()
answer.seen = codes()

local at = vim.fn.searchpos("sky is", "n")
answer.hover = ask("textDocument/hover", { textDocument = vim.lsp.util.make_text_document_params(0), position = { line = at[1] - 1, character = at[2] - 1 } })

for _ = 1, 12 do
  local one = diagnostics()[1]
  if one == nil then break end
  local range = { start = { line = one.lnum, character = one.col }, ["end"] = { line = one.end_lnum, character = one.end_col } }
  local actions = ask("textDocument/codeAction", { textDocument = vim.lsp.util.make_text_document_params(0), range = range, context = { diagnostics = { one.user_data.lsp }, only = { "quickfix" } } })
  if actions == nil or #actions == 0 then answer.stuck = one.message break end
  table.insert(answer.applied, actions[1].title)
  local tick = vim.b.changedtick
  vim.lsp.util.apply_workspace_edit(actions[1].edit, "utf-16")
  if vim.b.changedtick == tick then answer.stuck = actions[1].title break end
  settled()
end
answer.left = codes()
answer.text = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n") .. "\n"
finish()
