-- A host for the node's bundle in plain Lua: a shop that welds in the daytime, sensors with noise, a
-- broker that comes and goes. `open(options)` gives a host; the caller moves time with `host.turn()`.
-- options: loader (compiled bundle), seed, files (a store with read, write, remove, list),
-- publish(payload) called for each pack that the broker takes.

local function open(options)
  local host = {
    now = 1764057600, quarter = 0, uptime_quarters = 0, boots = 0,
    line = 345000, cylinder = 18000000, arc = false,
    accesses = 0, access = false, broker_up = true, flash_fails = false, loss = options.loss or 0,
  }
  local state = options.seed
  local files = options.files
  local link, node, reach = "down", nil, nil
  local pending, first, last = {}, 1, 0

  -- Park-Miller in steps that 32-bit integers hold (Schrage's method).
  function host.random()
    local high = math.floor(state / 44488)
    state = 48271 * (state - high * 44488) - 3399 * high
    if state <= 0 then state = state + 2147483647 end
    return state / 2147483647
  end
  local random = host.random

  function host.later(action)
    last = last + 1
    pending[last] = action
  end
  local later = host.later

  local function deliver()
    while first <= last do
      local action = pending[first]
      pending[first] = nil
      first = first + 1
      action()
    end
    if last > 16 then pending = {} end -- so that the host's own table does not stay large
    first, last = 1, 0
  end

  local function forget_pending()
    for index = first, last do pending[index] = nil end
    first, last = 1, 0
  end

  function host.tell(topic, payload)
    later(function() if link == "up" then node.message(topic, payload) end end)
  end

  local function reading(value)
    return math.floor(math.floor((value + (random() - 0.5) * 900) / 187.5 + 0.5) * 187.5)
  end
  local function burst(value)
    return reading(value), reading(value), reading(value), reading(value), reading(value)
  end

  local ports = {
    site = "north", node = "n-07", hardwareAddress = "", hasFlash = true,
    ringBytes = options.ringBytes or 100000,
    readAdc = function(channel)
      if channel == 3 then return burst(5000000) end
      if channel == 1 then return burst(500000 + 4 * host.line) end
      return burst(500000 + 4 * math.floor(host.cylinder / 25))
    end,
    readTemperature = function(probe) if probe < 3 then return 20.5 end end,
    readScale = function() return 142500 + math.floor(random() * 40) end,
    readArc = function() return host.arc end,
    readButton = function() return false end,
    unixTime = function() return host.now, (host.quarter % 4) * 250000 end,
    lamp = function() end, buzzer = function() end, log = function() end,
    fetchUpdate = function() end, restart = function() end, confirmUpdate = function() end,
    connect = function()
      link = "connecting"
      later(function()
        if host.broker_up then
          link = "up"
          node.connected()
        else
          link = "down"
          node.disconnected("refused")
        end
      end)
    end,
    publish = function(topic, payload)
      if link ~= "up" then return false end
      if topic:sub(-8) == "/samples" then
        if random() < host.loss then -- the connection breaks, perhaps after the broker took it
          if random() < 0.5 then options.publish(payload) end
          later(function()
            link = "down"
            node.disconnected("lost")
          end)
          return true
        end
        options.publish(payload)
      end
      later(function() if link == "up" then node.published() end end)
      return true
    end,
    subscribe = function() return link == "up" end,
    close = function() link = "down" end,
    readFile = files.read,
    writeFile = function(name, content)
      if host.flash_fails then return false end
      files.write(name, content, false)
      return true
    end,
    appendFile = function(name, content)
      if host.flash_fails then -- a torn line
        files.write(name, content:sub(1, math.floor(#content / 2)), true)
        return false
      end
      files.write(name, content, true)
      return true
    end,
    renameFile = function(from, to)
      local content = files.read(from)
      if not content then return false end
      files.write(to, content, false)
      files.remove(from)
      return true
    end,
    removeFile = files.remove,
    listFiles = files.list,
  }

  local reach_ports = {
    hardwareAddress = "0024befe804f", name = "north/n-07", network = "yard", host = "192.0.2.1",
    port = 1883, secret = "K7QF9M2XK7QF9M2XK7QF9M2X", enrolled = true, complete = true, why = "",
    readFile = files.read, writeFile = ports.writeFile, renameFile = ports.renameFile,
    removeFile = files.remove, lamp = ports.lamp, restart = function() end,
    openAccess = function()
      host.accesses = host.accesses + 1
      host.access, host.opened = true, host.quarter
    end,
    closeAccess = function() host.access = false end,
    loadSetUp = options.set_up,
  }

  -- Starts the node, or starts it again after a reset. `loaded()` is called between loading and
  -- starting.
  function host.start(reset, loaded)
    node = nil
    link = "down"
    forget_pending()
    host.boots = host.boots + 1
    host.access = false
    host.uptime_quarters = 0
    ports.reset = reset
    ports.random = math.floor(random() * 2147483646) + 1
    local bundle = options.loader()
    if loaded then loaded() end
    node = bundle.start(ports)
    reach = bundle.keepReachable(reach_ports)
  end

  function host.cut()
    host.broker_up = false
    if link ~= "down" then
      link = "down"
      node.disconnected("cut")
    end
  end

  -- A quarter of a second passes, or `quarters` of them in one turn (a host in a hurry). Welding from 7 to 16 h, a spell of 40 s in every 150 s.
  function host.turn(quarters)
    quarters = quarters or 1
    host.quarter = host.quarter + quarters
    if host.quarter % 4 == 0 then host.now = host.now + 1 end
    host.uptime_quarters = host.uptime_quarters + quarters
    local second = math.floor(host.quarter / 4)
    local hour = math.floor(second / 3600) % 24
    local gas = hour >= 7 and hour < 16 and second % 150 < 40
    host.line = gas and 320000 or 345000
    host.arc = gas and second % 150 > 0 and second % 150 < 32
    if gas then host.cylinder = host.cylinder - 8 end
    if host.cylinder < 2000000 then host.cylinder = 18000000 end
    node.tick(math.floor(host.uptime_quarters / 4), (host.uptime_quarters % 4) * 250000)
    deliver()
    reach.tick(math.floor(host.uptime_quarters / 4), host.broker_up, link == "up", false)
    if host.access and options.set_up and second % 97 == 0 and host.quarter - host.opened < 1200 then -- a phone looks, for five minutes
      reach.converse().take("GET / HTTP/1.1\r\n\r\n")
    end
    return second
  end

  return host
end

return open
