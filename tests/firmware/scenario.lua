-- Twenty minutes of a node's life, the same in every Lua: gives back all packs that it published.
-- Used with firmware/soak/host.lua.
return function(open, loader)
  local contents, out = {}, {}
  local host
  host = open({
    loader = loader, seed = 5, ringBytes = 6000,
    files = {
      read = function(name) return contents[name] end,
      write = function(name, text, append) contents[name] = (append and contents[name] or "") .. text end,
      remove = function(name) contents[name] = nil end,
      list = function()
        local names = {}
        for name in pairs(contents) do names[#names + 1] = name end
        table.sort(names)
        return table.concat(names, " ")
      end,
    },
    publish = function(payload) out[#out + 1] = payload end,
  })
  host.quarter = 7 * 3600 * 4 -- the shop opens
  host.start("power-on")
  for turn = 1, 4800 do
    if turn == 100 then host.tell("leeward/v1/north/n-07/config",
      '{"revision":7,"limits":{"residualPa":1000000,"lineLeastPa":200000,"lineMostPa":800000},' ..
      '"calibration":{"cylinder":{"rangePa":25000000,"lowReadsPa":12000,"highReadsPa":20100000,"highIsPa":20000000}}}')
    end
    if turn == 600 then host.cut() end
    if turn == 2400 then host.broker_up = true end
    if turn == 3000 then host.start("watchdog") end
    if turn == 3600 then
      host.tell("leeward/v1/north/n-07/stored", (out[1]:gsub('.*"n":"boot","v":(%d+).*', '{"boot":%1,"through":9}')))
    end
    host.turn()
  end
  return table.concat(out, "\n")
end
