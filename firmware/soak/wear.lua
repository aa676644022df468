-- Counts what a node writes to flash in a simulated day: without an outage, and with the gateway away
-- for five hours of welding. Usage: lua wear.lua <bundle> [hours]
local here = arg[0]:match("^(.*/)") or "./"
local open = dofile(here .. "host.lua")

local function day(away)
  local contents, bytes, writes = {}, 0, 0
  local host
  local gateway_up = true
  host = open({
    loader = assert(loadfile(arg[1])), seed = 3,
    files = {
      read = function(name) return contents[name] end,
      write = function(name, text, append)
        contents[name] = (append and contents[name] or "") .. text
        bytes, writes = bytes + #text, writes + 1
      end,
      remove = function(name) contents[name] = nil end,
      list = function()
        local names = {}
        for name in pairs(contents) do names[#names + 1] = name end
        return table.concat(names, " ")
      end,
    },
    publish = function(payload)
      if not gateway_up then return end
      host.tell("leeward/v1/north/n-07/stored", string.format('{"boot":%s,"through":%s}',
        payload:match('"n":"boot","v":(%d+)'), payload:match('"n":"seq","v":(%d+)')))
    end,
  })
  host.start("power-on")
  for _ = 1, (tonumber(arg[2]) or 24) * 14400 do
    local hour = math.floor(host.quarter / 14400) % 24
    gateway_up = not (away and hour >= 9 and hour < 14)
    host.turn()
  end
  print(string.format("wear: %s, %d bytes in %d writes", away and "gateway away from 9 to 14 h" or "no outage", bytes, writes))
end

day(false)
day(true)
