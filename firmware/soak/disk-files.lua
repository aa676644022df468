-- The node's files in a folder on disk, so that only the node's own data count in its VM's memory.
return function(folder)
  local names = {}
  for number = 1, 60000 do names["q" .. number] = false end -- so that the table does not grow later
  local function path(name) return folder .. "/" .. name end
  return {
    read = function(name)
      local file = names[name] and io.open(path(name), "rb")
      if not file then return nil end
      local text = file:read("*a")
      file:close()
      return text
    end,
    write = function(name, text, append)
      local file = assert(io.open(path(name), append and "ab" or "wb"))
      file:write(text)
      file:close()
      names[name] = true
    end,
    remove = function(name)
      if not names[name] then return end
      names[name] = false
      os.remove(path(name))
    end,
    list = function()
      local list = {}
      for name, there in pairs(names) do if there then list[#list + 1] = name end end
      return table.concat(list, " ")
    end,
  }
end
