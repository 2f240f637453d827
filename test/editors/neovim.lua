-- Somebody at work in Neovim, with the README's lines as its `init.lua` and nothing else: sees what is wrong, asks about a word, mends by
-- quick fixes alone, lets a word be completed, formats.
-- In: the book in front, ANSWER (a file to write).
local answer = { applied = {} }

-- Keys are taken between two steps only, so whoever presses one waits in a coroutine.
local going
local function sleep(ms)
  vim.defer_fn(function() coroutine.resume(going) end, ms)
  coroutine.yield()
end
local function until_true(holds)
  for _ = 1, 300 do
    if holds() then return true end
    sleep(50)
  end
  return false
end
local function press(keys)
  vim.api.nvim_input(keys)
  sleep(100)
end

local function codes()
  local list = {}
  for _, one in ipairs(vim.diagnostic.get(0)) do table.insert(list, one.code or one.user_data.lsp.code) end
  table.sort(list)
  return list
end
local function text() return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n") .. "\n" end
-- Lenses come when all is known; what was found came before them.
local function settled()
  vim.lsp.buf_request_sync(0, "textDocument/codeLens", { textDocument = vim.lsp.util.make_text_document_params(0) }, 10000)
  sleep(100)
end
local function floating()
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if vim.api.nvim_win_get_config(window).relative ~= "" then return table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), "\n") end
  end
end

local function walk()
  until_true(function() return #codes() > 0 end)
  settled()
  answer.seen = codes()
  answer.servers = #vim.lsp.get_active_clients()

  press("gg/sky is<CR>K")
  until_true(function() return floating() ~= nil end)
  answer.hover = floating()
  press("j")

  -- Whatever it is asked to choose from, the first will do.
  vim.ui.select = function(items, options, chosen)
    table.insert(answer.applied, (options.format_item(items[1])))
    chosen(items[1], 1)
  end
  for _ = 1, 12 do
    local one = vim.diagnostic.get(0)[1]
    if one == nil then break end
    vim.api.nvim_win_set_cursor(0, { one.lnum + 1, one.col })
    local tick = vim.b.changedtick
    press("<F4>")
    if not until_true(function() return vim.b.changedtick > tick end) then break end
    settled()
  end
  answer.left = codes()
  answer.mended = text()

  press("Go")
  vim.api.nvim_input('pattern "Wind and sun want worm"<CR>go   with bait worm<CR>when sky is bright and wi<C-x><C-o>')
  local function items() return vim.fn.complete_info({ "items" }).items end
  until_true(function() return #items() > 0 end)
  answer.offered = vim.tbl_map(function(item) return item.word end, items())
  press("<C-y> is strong<Esc>")
  press("ggVGgq")
  settled()
  answer.text = text()
end

going = coroutine.create(function()
  local fine, problem = pcall(walk)
  if not fine then answer.problem = tostring(problem) end
  local file = io.open(vim.env.ANSWER, "w")
  file:write(vim.fn.json_encode(answer))
  file:close()
  vim.cmd("qall!")
end)
vim.defer_fn(function() coroutine.resume(going) end, 0)
