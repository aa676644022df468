-- Measures the memory of a running node over simulated days with outages.
-- Usage: lua heap.lua <bundle> <days> <folder for the node's files> [hours of a day] [bytes of the ring]
-- Data heap: what is alive after a full collection, minus the same just after loading the bundle.
-- Ends with code 1 where it exceeds 16 kB or grows.

local here = arg[0]:match("^(.*/)") or "./"
local function alive()
  collectgarbage()
  collectgarbage()
  return collectgarbage("count")
end
local bare = alive()
-- The microcontroller's Lua collects early, since it has to; here it is told to.
collectgarbage("setpause", 105)
collectgarbage("setstepmul", 400)
local loader = assert(loadfile(arg[1]))
local code = alive() - bare
local set_up = assert(loadfile((arg[1]:gsub("leeward%-node", "leeward-set-up"))))
local open = dofile(here .. "host.lua")
local days, folder = tonumber(arg[2]), arg[3]
local day_s = tonumber(arg[4] or "24") * 3600
local ring_bytes = tonumber(arg[5] or "60000")

local files = dofile(here .. "disk-files.lua")(folder)

local host
local gateway_up = true
host = open({
  loader = loader, set_up = set_up, seed = 11, files = files, ringBytes = ring_bytes,
  publish = function(payload)
    if not gateway_up then return end
    local boot = payload:match('"n":"boot","v":(%d+)')
    local seq = payload:match('"n":"seq","v":(%d+)')
    host.tell("leeward/v1/north/n-07/stored", '{"boot":' .. boot .. ',"through":' .. seq .. "}")
  end,
})

local loaded = 0
host.start("power-on", function() loaded = alive() end)

-- Each day the broker is away from 9 to 14 h, the gateway from 20 to 22 h (of 24).
local open_most = 0
local most, first_day, last_day, peak = 0, 0, 0, 0
local quarters = days * day_s * 4
for step = 1, quarters do
  local second = math.floor(step / 4)
  local hour = second % day_s * 24 / day_s
  if hour >= 9 and hour < 14 then
    if host.broker_up then host.cut() end
  else
    host.broker_up = true
  end
  gateway_up = hour < 20 or hour >= 22
  host.turn()
  local now = collectgarbage("count")
  if now > peak then peak = now end
  if step % 600 == 0 then
    local data = alive() - loaded
    if host.access then
      open_most = math.max(open_most, data)
      data = 0
    end
    if data > most then most = data end
    if second <= day_s then first_day = math.max(first_day, data) end
    if second > (days - 1) * day_s then last_day = math.max(last_day, data) end
  end
end
print(string.format(
  "heap: %s, %g days of %g h; bare VM %.1f kB, code %.1f kB, data at most %.1f kB (first day %.1f, last day %.1f), " ..
  "%.1f while its set-up is open; peak with uncollected garbage %.1f kB over loaded",
  _VERSION, days, day_s / 3600, bare, code, most, first_day, last_day, open_most, peak - loaded))
os.exit(most <= 16 and last_day <= first_day + 1 and 0 or 1)
