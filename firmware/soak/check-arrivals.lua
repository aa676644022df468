-- Reads what arrived during a soak and judges it: no pack with two contents, no row twice, no gap in
-- time that a reset or thinning does not explain. `source` gives the log's lines.
-- A line is `P <payload>` or `R <milliseconds since the start>` for a reset.

local idle_pace = 16000

local function milliseconds(whole, digits)
  return tonumber(whole) * 1000 + tonumber((digits .. "000"):sub(1, 3))
end

return function(source, start_unix, complain)
  local rows, row_pack, packs = {}, {}, {}
  local repeats, thinned_packs, pack_count, resets = 0, 0, 0, {}

  local function take(payload)
    if #payload >= 1200 then complain("a pack of " .. #payload .. " bytes") end
    local boot = tonumber(payload:match('"n":"boot","v":(%d+)'))
    local seq = tonumber(payload:match('"n":"seq","v":(%d+)'))
    local key = boot .. "/" .. seq
    if packs[key] then
      repeats = repeats + 1
      if packs[key] ~= payload then complain("pack " .. key .. " came with two contents") end
      return
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
  end

  for line in source do
    if line:sub(1, 2) == "P " then take(line:sub(3)) else resets[#resets + 1] = tonumber(line:sub(3)) end
  end

  local times = {}
  for at in pairs(rows) do times[#times + 1] = at end
  table.sort(times)
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
  return {
    rows = #times, packs = pack_count, thinned = thinned_packs, repeats = repeats,
    resets = #resets, lost_at_reset = lost_at_reset, unexplained = unexplained,
  }
end
