-- Runs the node's bundle for simulated days against a broker, a gateway, a flash and a power supply
-- that fail at random. Checks that every row which the ring could hold arrives exactly once.
-- Usage: lua soak.lua <bundle> <days> <seed> [mean hours between troubles]
-- Ends with code 1 and the first complaint where something is wrong.

local here = arg[0]:match("^(.*/)") or "./"
local open = dofile(here .. "host.lua")
local path, days, seed, trouble_hours = arg[1], tonumber(arg[2]), tonumber(arg[3]), tonumber(arg[4] or "6")
local start_unix = 1764057600

local function complain(text)
  print("FAILED: " .. text)
  os.exit(1)
end

local contents = {}
local files = {
  read = function(name) return contents[name] end,
  write = function(name, text, append) contents[name] = (append and contents[name] or "") .. text end,
  remove = function(name) contents[name] = nil end,
  list = function()
    local names = {}
    for name in pairs(contents) do names[#names + 1] = name end
    return table.concat(names, " ")
  end,
}

-- The gateway: keeps packs by boot and number. Row times are milliseconds since the start.
local row_pack = {}
local packs, through, rows, repeats, thinned_packs, pack_count = {}, {}, {}, 0, 0, 0

local function milliseconds(whole, digits)
  return tonumber(whole) * 1000 + tonumber((digits .. "000"):sub(1, 3))
end

local function store(payload)
  if #payload >= 1200 then complain("a pack of " .. #payload .. " bytes") end
  local boot = tonumber(payload:match('"n":"boot","v":(%d+)'))
  local seq = tonumber(payload:match('"n":"seq","v":(%d+)'))
  through[boot] = math.max(through[boot] or 0, seq)
  local key = boot .. "/" .. seq
  if packs[key] then
    repeats = repeats + 1
    if packs[key] ~= payload then complain("pack " .. key .. " came with two contents") end
    return boot
  end
  packs[key] = payload
  pack_count = pack_count + 1
  local whole, part = payload:match('"bt":(%d+)%.?(%d*)')
  local base = milliseconds(tonumber(whole) - start_unix, part)
  local thinned = payload:find('"n":"thinned"', 1, true) ~= nil
  if thinned then thinned_packs = thinned_packs + 1 end
  for record in payload:gmatch('"n":"line%-pressure"[^}]*') do
    local seconds, digits = record:match('"t":%-(%d+)%.?(%d*)')
    local at = base - (seconds and milliseconds(seconds, digits) or 0)
    if rows[at] then complain("the row at " .. at .. " ms came twice, in " .. key) end
    rows[at] = thinned and "thinned" or "whole"
    row_pack[at] = key
  end
  return boot
end

local host
local gateway_up, queued = true, {}
local function take(payload)
  local boot = store(payload)
  local word = string.format('{"boot":%d,"through":%d}', boot, through[boot])
  host.tell("leeward/v1/north/n-07/stored", word)
end

host = open({
  loader = assert(loadfile(path)), seed = seed, files = files, loss = 0.002,
  publish = function(payload)
    if gateway_up then take(payload) else queued[#queued + 1] = payload end
  end,
})

local function gateway_returns()
  gateway_up = true
  for index = 1, #queued do take(queued[index]) end
  queued = {}
end

local resets, outages = {}, 0
local broker_back, gateway_back, flash_back = 0, 0, 0
local random = host.random

local function trouble(second)
  local chance = 1 / (trouble_hours * 3600)
  if random() < chance then
    outages = outages + 1
    broker_back = second + math.floor(random() * random() * 36000) + 1
    host.cut()
  end
  if random() < chance then
    gateway_up = false
    gateway_back = second + math.floor(random() * 10800) + 1
  end
  if random() < chance * 0.3 then
    host.flash_fails = true
    flash_back = second + math.floor(random() * 900) + 1
  end
  if random() < chance * 0.5 then
    resets[#resets + 1] = second * 1000
    host.start("watchdog")
  end
  if second >= broker_back then host.broker_up = true end
  if second >= flash_back then host.flash_fails = false end
  if not gateway_up and second >= gateway_back then gateway_returns() end
end

host.start("power-on")
for _ = 1, days * 86400 * 4 do
  local second = host.turn()
  if host.quarter % 4 == 0 then trouble(second) end
end

-- Everything heals; the ring must empty itself.
host.broker_up, host.flash_fails = true, false
gateway_returns()
for _ = 1, 2400 do host.turn() end
for name in pairs(contents) do
  if name:match("^q%d+$") then complain("segment " .. name .. " is left on flash") end
end

local times = {}
for at in pairs(rows) do times[#times + 1] = at end
table.sort(times)
local idle_pace = 16000
local unexplained, lost_at_reset = 0, 0
for index = 2, #times do
  local before, after = times[index - 1], times[index]
  if after - before > idle_pace then
    local explained = rows[before] == "thinned" or rows[after] == "thinned"
    for _, at in ipairs(resets) do
      if not explained and at > before - 1000 and at <= after + 1000 then
        explained = true
        lost_at_reset = math.max(lost_at_reset, after - before)
      end
    end
    if not explained then
      unexplained = unexplained + 1
      print("a gap of " .. after - before .. " ms before " .. after .. ", packs " .. row_pack[before] .. " and " .. row_pack[after])
    end
  end
end
print(string.format(
  "soak: %s, %g days, %d rows in %d packs (%d thinned), %d repeats, %d outages, %d resets, " ..
  "longest gap at a reset %d ms, %d gaps without a reason",
  _VERSION, days, #times, pack_count, thinned_packs, repeats, outages, #resets, lost_at_reset, unexplained))
os.exit(unexplained == 0 and #times > 0 and 0 or 1)
