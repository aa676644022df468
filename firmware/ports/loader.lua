-- The node's init.lua: starts the application, and goes back to the one before where a new one does
-- not come up. It is never updated itself. `LEEWARD_PORT` is the name of the chip's port file.
local root = io and "/SPIFFS/" or ""
local function read(name)
  if io then
    local f = io.open(root .. name, "r")
    if not f then return nil end
    local text = f:read("*a")
    f:close()
    return text
  end
  return file.getcontents(name)
end
local function write(name, text)
  if io then
    local f = io.open(root .. name, "w")
    if f then f:write(text) f:close() end
  else
    file.putcontents(name, text)
  end
end
local function remove(name) if io then os.remove(root .. name) else file.remove(name) end end
local function rename(from, to)
  remove(to)
  if io then os.rename(root .. from, root .. to) else file.rename(from, to) end
end

local current, before, offered, trial = "leeward-node.lua", "leeward-node.old", "update.new", "update.try"
local starts = tonumber(read(trial) or "")
if starts == 0 and read(offered) then
  rename(current, before)
  rename(offered, current)
  write(trial, "1")
elseif starts and starts < 3 then
  write(trial, tostring(starts + 1))
elseif starts then -- three starts without reaching the broker
  if read(before) then rename(before, current) end
  remove(trial)
elseif not read(current) and read(before) then -- a power cut between the two renames
  rename(before, current)
end

-- Code in flash (ESP8266) goes before code in files.
local function chunk(name, path)
  local image = node.LFS and node.LFS.get(name)
  return image and image() or dofile(root .. path)
end
local ok, why = pcall(function()
  local bundle = chunk("leeward-node", current)
  chunk(LEEWARD_PORT:sub(1, -5), LEEWARD_PORT).startPort(bundle)
end)
if not ok then
  print("leeward: " .. tostring(why))
  if read(trial) then tmr.create():alarm(5000, tmr.ALARM_SINGLE, function() node.restart() end) end
end
