-- A stand-in for the microcontroller's modules, enough to run a port file in plain Lua: timers, an
-- ADS1115 and two probes by their wire protocols, MQTT that raises when it is not connected, files.
-- Usage: lua5.1 nodemcu.lua <chip> <folder of built files> <case> [what the case needs]
-- Prints what was published, one message a line.

local chip, folder, case = arg[1], arg[2], arg[3] or "plain"
local lua_io, lua_os = io, os
local hmac = dofile(arg[0]:match("^(.*/)") .. "sha256.lua").hmac
local function out(...) lua_io.write(table.concat({ ... }, " "), "\n") end

-- Time and timers
local now_ms, timers, sequence = 0, {}, 0
tmr = { ALARM_AUTO = 1, ALARM_SINGLE = 0 }
function tmr.create()
  return { alarm = function(_, ms, mode, action)
    sequence = sequence + 1
    timers[#timers + 1] = { at = now_ms + ms, every = mode == tmr.ALARM_AUTO and ms or nil, action = action, n = sequence }
    return true
  end }
end
local counter_start = 2147483648 - 5000000 -- wraps after five seconds
function tmr.now() return (counter_start + now_ms * 1000) % 2147483648 end
function tmr.softwd() end
local function run(ms)
  local finish = now_ms + ms
  while true do
    local best
    for _, timer in ipairs(timers) do
      if not timer.done and timer.at <= finish and (not best or timer.at < best.at or (timer.at == best.at and timer.n < best.n)) then best = timer end
    end
    if not best then break end
    now_ms = best.at
    if best.every then best.at = best.at + best.every else best.done = true end
    best.action()
    if #timers > 200 then
      local left = {}
      for _, timer in ipairs(timers) do if not timer.done then left[#left + 1] = timer end end
      timers = left
    end
  end
  now_ms = finish
end

-- ADS1115: registers by address, after its data sheet (from memory)
local volts = { [0] = 0.5 + 4 * 0.345, [1] = 0.5 + 4 * 0.72, [2] = 5.0 } -- 345 kPa of 1 MPa, 18 of 25 MPa
local pointer, result, dead, setups = 0, 0, false, 0
i2c = { SLOW = 100000, TRANSMITTER = 0, RECEIVER = 1 }
function i2c.setup() setups = setups + 1 return 100000 end
function i2c.start() end
function i2c.stop() end
function i2c.address(_, device) return device == 0x48 and not dead end
function i2c.write(_, register, high, low)
  pointer = register
  if register == 1 then
    assert(low == 0xa3 and high >= 0xc1 and high <= 0xf1 and (high - 0xc1) % 16 == 0, "bad configuration")
    local input = (high - 0xc1) / 16
    result = math.floor(volts[input] / 187.5e-6 + 0.5)
  end
  return 1
end
function i2c.read(_, length)
  assert(length == 2 and pointer == 0)
  return string.char(math.floor(result / 256), result % 256)
end

-- DS18B20
local command, present = {}, { [3] = 20.0625, [4] = -5.5 }
ow = {}
function ow.setup() end
function ow.reset(pin) command[pin] = nil return present[pin] and 1 or 0 end
function ow.skip() end
function ow.write(pin, value) command[pin] = value end
function ow.crc8(text) local sum = 0 for i = 1, #text do sum = (sum * 3 + text:byte(i)) % 256 end return sum end
function ow.read_bytes(pin, count)
  assert(command[pin] == 0xbe and count == 9)
  local raw = math.floor(present[pin] * 16)
  if raw < 0 then raw = raw + 65536 end
  local data = string.char(raw % 256, math.floor(raw / 256), 0, 0, 127, 255, 0, 16)
  return data .. string.char(case == "bad-probe" and 0 or ow.crc8(data))
end

-- Pins
local pins = {}
gpio = { INPUT = 0, OUTPUT = 1, PULLUP = 1, IN = 0, OUT = 1, PULL_UP = 1 }
function gpio.mode() end
function gpio.config() end
function gpio.read(pin) return pins[pin] or 1 end
function gpio.write(pin, level) pins[pin] = level end

-- Files
local files = {}
local function content(path) return files[(path:gsub("^/SPIFFS/", ""))] end
if chip == "esp8266" then
  io, os = nil, nil
  file = {
    getcontents = function(name) return files[name] end,
    putcontents = function(name, text) files[name] = text return true end,
    exists = function(name) return files[name] ~= nil end,
    rename = function(from, to)
      if files[from] == nil or files[to] ~= nil then return false end
      files[to], files[from] = files[from], nil
      return true
    end,
    remove = function(name) files[name] = nil end,
    list = function() local sizes = {} for name, text in pairs(files) do sizes[name] = #text end return sizes end,
    open = function(name, mode)
      assert(mode == "a+")
      return { write = function(_, text) files[name] = (files[name] or "") .. text return true end, close = function() end }
    end,
  }
  rtctime = { dsleep = function(us) out("sleep", us / 1000000) timers = {} end, get = function() return 1764057600 + math.floor(now_ms / 1000), 0, 0 end }
  sntp = { sync = function() end }
else
  io = { open = function(path, mode)
    local name = path:gsub("^/SPIFFS/", "")
    if mode == "r" then
      if not files[name] then return nil end
      return { read = function() return files[name] end, close = function() end }
    end
    if mode == "w" then files[name] = "" end
    return { write = function(handle, text) files[name] = (files[name] or "") .. text return handle end, close = function() end }
  end }
  os = {
    rename = function(from, to)
      from, to = from:gsub("^/SPIFFS/", ""), to:gsub("^/SPIFFS/", "")
      if files[from] == nil or files[to] ~= nil then return nil end
      files[to], files[from] = files[from], nil
      return true
    end,
    remove = function(path) files[path:gsub("^/SPIFFS/", "")] = nil return true end,
  }
  time = { initntp = function() end, get = function() return 1764057600 + math.floor(now_ms / 1000), 0 end }
end

-- Network and broker
local network = { up = function() end, down = function() end, there = true, joined = 0 }
local access = { open = false }
local function set_mode(mode)
  if mode == 1 then access.open = false out("access point closed") end
end
wifi = { STATION = 1, SOFTAP = 2, STATIONAP = 3, OPEN = 0, WPA2_PSK = 3, AUTH_OPEN = 0, AUTH_WPA2_PSK = 3,
  start = function() end, eventmon = { STA_GOT_IP = 1, STA_DISCONNECTED = 2 }, sta = {}, ap = {} }
if chip == "esp8266" then wifi.setmode = function(mode, save) assert(save == false) set_mode(mode) end else wifi.mode = set_mode end
function wifi.ap.config(settings)
  assert(settings.auth == (settings.pwd and 3 or 0) and (not settings.pwd or #settings.pwd >= 8))
  access.open = true
  out("access point", settings.ssid, settings.pwd or "open")
end
local function join()
  network.joined = network.joined + 1
  tmr.create():alarm(50, 0, function() if network.there then network.up() end end)
end
function wifi.eventmon.register(event, action) if event == 1 then network.up = action else network.down = action end end
function wifi.sta.on(event, action) if event == "got_ip" then network.up = action else network.down = action end end
function wifi.sta.config(settings)
  assert(settings.ssid == (network.ssid or "yard") and settings.pwd == (network.pwd or "pw"))
  if chip == "esp8266" then join() end
end
function wifi.sta.connect() join() end
function wifi.sta.getmac() return "00:24:be:fe:80:4f" end
local broker_up, client, subscriptions = true, nil, {}
mqtt = { Client = function(id, keepalive, user, password)
  assert(id == "leeward-node-north-n-07" and keepalive == 30 and user == (network.user or "n-07") and password == (network.secret or "s3cret-secret"))
  local self = { on_event = {}, connected = false }
  function self.lwt(_, topic, message, qos, retain) assert(qos == 1 and retain == 1) self.will = message end
  function self.on(_, event, action) self.on_event[event] = action end
  function self.connect(_, host, port, secure, ...)
    assert(host == (network.host or "192.0.2.1") and port == 1883 and secure == 0)
    local failed = select(select("#", ...), ...)
    tmr.create():alarm(20, 0, function()
      if not broker_up then failed(self, -5) return end
      self.connected = true
      self.on_event.connect(self)
    end)
    client = self
    return true
  end
  function self.publish(_, topic, payload, qos, retain, done)
    if not self.connected then
      if chip == "esp8266" then error("not connected") end
      return false
    end
    out(topic, payload)
    tmr.create():alarm(5, 0, function() if self.connected then done(self) end end)
    return true
  end
  function self.subscribe(_, topic)
    if not self.connected then error("not connected") end
    subscriptions[#subscriptions + 1] = topic
    return true
  end
  function self.close() self.connected = false end
  return self
end }
local function tell(leaf, payload) client.on_event.message(client, "leeward/v1/north/n-07/" .. leaf, payload) end

-- The chip
local restarts = 0
node = {
  restart = function() restarts = restarts + 1 out("restart") end,
  dsleep = function(options) out("sleep", options.secs) timers = {} end,
  bootreason = function() return 1, 0 end,
  uptime = function() return tmr.now(), 0 end,
  random = function() return 424242 end,
}
sjson = { decode = function(text)
  if not text:find("^{") then error("not JSON") end
  local lua = text:gsub('"([%w]+)":', "%1="):gsub("%[", "{"):gsub("%]", "}")
  return assert((loadstring or load)("return " .. lua))()
end }
crypto = { new_hmac = function(algorithm, key)
  assert(algorithm == "sha256")
  local seen = ""
  return { update = function(_, text) seen = seen .. text end, finalize = function() return hmac(key, seen) end }
end }
-- A phone: each request is a connection of its own; `from` is its address.
local server
local function phone(text, from)
  local on, got, closed = {}, {}, false
  local socket = {
    on = function(_, event, action) on[event] = action end,
    getpeer = function() return 50000, from or "192.168.4.2" end,
    send = function(self, piece)
      assert(#piece < 1460, "a piece of " .. #piece)
      got[#got + 1] = piece
      tmr.create():alarm(3, 0, function() if not closed then on.sent(self) end end)
    end,
    close = function() closed = true end,
  }
  server(socket)
  if closed then return "closed" end
  local half = math.floor(#text / 2)
  on.receive(socket, text:sub(1, half))
  on.receive(socket, text:sub(half + 1))
  run(100)
  assert(closed, "the connection stays open")
  return table.concat(got)
end
net = { TCP = 1, createServer = function(kind, idle)
  assert(kind == 1 and idle > 0)
  return { listen = function(_, port, taken) assert(port == 80) server = taken end, close = function() server = nil end }
end, createConnection = function()
  local on = {}
  return {
    on = function(_, event, action) on[event] = action end,
    connect = function(self, port, host)
      assert(port == 8081 and host == "192.0.2.1")
      tmr.create():alarm(5, 0, function()
        on.connection(self)
        on.receive(self, "HTTP/1.0 200 OK\r\nContent-Le")
        on.receive(self, "ngth: 2000\r\n\r\n" .. ("x"):rep(500))
        on.receive(self, ("x"):rep(1500))
        on.disconnection(self)
      end)
    end,
    send = function(_, text) assert(text:find("^GET /node.lua HTTP/1.0\r\n")) end,
    close = function() end,
  }
end }

-- Put the node together and let it live.
if case ~= "blank" then
  files.provision = '{"site":"north","node":"n-07","ssid":"yard","password":"pw","host":"192.0.2.1","port":1883,"user":"n-07","secret":"s3cret-secret",'
    .. '"pins":{"cylinderProbe":3,"regulatorProbe":4,"arc":7}}'
end
local function load_file(name)
  local handle = assert(lua_io.open(folder .. "/" .. name, "rb"))
  local text = handle:read("*a")
  handle:close()
  return text
end
files["leeward-node.lua"] = load_file("leeward-node.lua")
files["leeward-set-up.lua"] = load_file("leeward-set-up.lua")
files["port-" .. chip .. ".lua"] = load_file("port-" .. chip .. ".lua")
print = out
local compile = loadstring or load
dofile = function(path) return assert(compile(content(path), "@" .. path))() end
local function start() timers = {} client = nil assert(compile(load_file("init-" .. chip .. ".lua"), "@init"))() end

if case == "fallback" then -- a new bundle that does not even load, three times over
  files["update.new"], files["update.try"] = "this is no Lua", "0"
  local good = files["leeward-node.lua"]
  for attempt = 1, 4 do start() run(7000) end
  out("back", tostring(files["leeward-node.lua"] == good), tostring(files["update.try"]))
  run(5000)
elseif case == "blank" then
  start()
  run(3000)
  out("lamp", pins[chip == "esp8266" and 5 or 18])
  leeward("show")
  local page = phone("GET / HTTP/1.1\r\nHost: 192.168.4.1\r\n\r\n")
  out((page:gsub("\r?\n", "~")))
  out((phone("GET /generate_204 HTTP/1.1\r\n\r\n"):gsub("\r?\n", "~")))
  out(phone("GET / HTTP/1.1\r\n\r\n", "10.0.0.7"))
  local body = "network=dock+%26+yard&password=pa%24%24word&gateway=192.0.2.9&code=" .. arg[4]
  out((phone("POST / HTTP/1.1\r\nContent-Length: " .. #body .. "\r\n\r\n" .. body):gsub("\r?\n", "~")))
  run(5000)
  out("restarts", restarts)
  network.ssid, network.pwd, network.host, network.user = "dock & yard", "pa$$word", "192.0.2.9", "north/n-07"
  network.secret = arg[4]:match("/([^/]*)$"):gsub("-", "")
  start()
  run(20000)
else
  start()
  run(20000)
  if case == "stuck-bus" then
    dead = true
    run(10000)
    out("setups", setups)
    dead = false
    run(30000)
  elseif case == "outage" then
    broker_up, client.connected = false, false
    client.on_event.offline(client)
    run(300000)
    broker_up = true
    run(90000)
  elseif case == "lost-network" then
    network.there = false
    network.down()
    client.connected = false
    client.on_event.offline(client)
    run(400000)
    out("served", tostring(server ~= nil))
    network.there = true
    network.up()
    run(240000)
    out("served", tostring(server ~= nil))
  elseif case == "raising" then
    local read = gpio.read
    gpio.read = function() error("a pin that raises") end
    run(4000)
    out("restarts", restarts)
    run(3000)
    gpio.read = read
    out("restarts", restarts)
  elseif case == "update" then
    tell("command", '{"id":"u1","do":"update","url":"http://192.0.2.1:8081/node.lua","bytes":2000,"hmac":"' .. arg[4]:upper() .. '","expires":1764060000}')
    run(10000)
    out("restarts", restarts, files["update.try"] or "nil", #(files["update.new"] or ""))
  elseif case == "bad-update" then
    tell("command", '{"id":"u2","do":"update","url":"http://192.0.2.1:8081/node.lua","bytes":2000,"hmac":"' .. ("00"):rep(32) .. '","expires":1764060000}')
    run(10000)
    out("restarts", restarts, tostring(files["update.new"]))
  end
end
