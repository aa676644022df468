-- Runs the node's bundle for simulated days against a broker, a gateway, a flash and a power supply
-- that fail at random. Checks that every row which the ring could hold arrives exactly once, and that
-- memory does not grow: what is alive after a full collection, each simulated hour, less what was alive
-- just after loading. What arrives is kept outside the VM (gzip) and judged at the end.
-- Usage: lua soak.lua <bundle> <days> <seed> [mean hours between troubles]
-- Ends with code 1 and the first complaint where something is wrong.

local here = arg[0]:match("^(.*/)") or "./"
local open = dofile(here .. "host.lua")
local path, days, seed, trouble_hours = arg[1], tonumber(arg[2]), tonumber(arg[3]), tonumber(arg[4] or "6")
local start_unix = 1764057600

local folder = os.tmpname()
os.remove(folder)
assert(os.execute("mkdir '" .. folder .. "'"))
local function tidy() os.execute("rm -r '" .. folder .. "'") end
local function complain(text)
  print("FAILED: " .. text)
  tidy()
  os.exit(1)
end

local files = dofile(here .. "disk-files.lua")(folder)
local log_path = folder .. "/arrived.gz"
local log = assert(io.popen("gzip -1 > '" .. log_path .. "'", "w"))

-- Tables of a fixed size: the host must not grow either. A boot has the slot of its number.
local slots, slot_boot, through = 1009, {}, {}
for slot = 1, slots do slot_boot[slot], through[slot] = 0, 0 end
files.write("boot", "1", false)
local function take(payload)
  log:write("P ", payload, "\n")
  local boot = tonumber(payload:match('"n":"boot","v":(%d+)'))
  local seq = tonumber(payload:match('"n":"seq","v":(%d+)'))
  local slot = boot % slots + 1
  if slot_boot[slot] ~= boot then slot_boot[slot], through[slot] = boot, 0 end
  through[slot] = math.max(through[slot], seq)
  return string.format('{"boot":%d,"through":%d}', boot, through[slot])
end

local host
local gateway_up, queued = true, 0
-- What the broker keeps for the gateway lies outside too; the gateway's word comes when it is back.
local queue_path = folder .. "/queued"
local queue = assert(io.open(queue_path, "w"))
local function store(payload) host.tell("leeward/v1/north/n-07/stored", take(payload)) end

local loader = assert(loadfile(path))
local set_up = assert(loadfile((path:gsub("leeward%-node", "leeward-set-up"))))
host = open({
  loader = loader, set_up = set_up, seed = seed, files = files, loss = 0.002,
  publish = function(payload)
    if gateway_up then
      store(payload)
    else
      queue:write(payload, "\n")
      queued = queued + 1
    end
  end,
})

local function gateway_returns()
  gateway_up = true
  queue:close()
  if queued > 0 then for payload in io.lines(queue_path) do store(payload) end end
  queued = 0
  queue = assert(io.open(queue_path, "w"))
end

local outages = 0
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
    log:write("R ", string.format("%d", second * 1000), "\n")
    host.start("watchdog")
  end
  if second >= broker_back then host.broker_up = true end
  if second >= flash_back then host.flash_fails = false end
  if not gateway_up and second >= gateway_back then gateway_returns() end
end

local function alive()
  collectgarbage()
  collectgarbage()
  return collectgarbage("count")
end

local loaded = 0
host.start("power-on", function() loaded = alive() end)
local turns = math.floor(days * 86400 * 4)
local most_early, most_late, most_open = 0, 0, 0
local every = math.min(14400, math.max(1, math.floor(turns / 200)))
local turn, next_look = 0, every
while turn < turns do
  -- At night nothing moves: a turn a second, as a host in a hurry may.
  local hour = math.floor(host.quarter / 14400) % 24
  local quarters = (host.quarter % 4 == 0 and (hour < 7 or hour >= 16)) and 4 or 1
  turn = turn + quarters
  local second = host.turn(quarters)
  if turn >= next_look then
    next_look = next_look + every
    local data = alive() - loaded
    if host.access then
      most_open = math.max(most_open, data)
    elseif turn <= turns / 3 then
      most_early = math.max(most_early, data)
    elseif turn > turns * 2 / 3 then
      most_late = math.max(most_late, data)
    end
  end
  if host.quarter % 4 == 0 then trouble(second) end
end

-- Everything heals; the ring must empty itself.
host.broker_up, host.flash_fails = true, false
gateway_returns()
for _ = 1, 2400 do host.turn() end
for name in files.list():gmatch("%S+") do
  if name:match("^q%d+$") then complain("segment " .. name .. " is left on flash") end
end
queue:close()
log:close()

local source = assert(io.popen("gzip -dc '" .. log_path .. "'", "r"))
local found = dofile(here .. "check-arrivals.lua")(source:lines(), start_unix, complain)
source:close()
tidy()
print(string.format(
  "soak: %s, seed %d, %g days, %d rows in %d packs (%d thinned), %d repeats, %d outages, %d resets, %d times its own access point, " ..
  "longest gap at a reset %d ms, %d gaps without a reason; data heap at most %.1f kB in the first third, %.1f in the last, %.1f while a phone may look",
  _VERSION, seed, days, found.rows, found.packs, found.thinned, found.repeats, outages, found.resets,
  host.accesses, found.lost_at_reset, found.unexplained, most_early, most_late, most_open))
-- 16 kB, and up to 4 more while the flash fails and the ring lives in memory.
local most = math.max(most_early, most_late)
local grown = most > 20 or most_late > most_early + 4
if grown then print("FAILED: memory has grown, or exceeds 20 kB") end
os.exit(found.unexplained == 0 and found.rows > 0 and not grown and 0 or 1)
