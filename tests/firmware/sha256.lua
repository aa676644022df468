-- SHA-256 (FIPS 180-4) and HMAC (RFC 2104) in plain Lua 5.1, for the stand-in of the chip's module.
local floor = math.floor
local xor_table, and_table = {}, {}
for a = 0, 255 do
  xor_table[a], and_table[a] = {}, {}
  for b = 0, 255 do
    local x, y, bit, l, r = 0, 0, 1, a, b
    for _ = 1, 8 do
      local p, q = l % 2, r % 2
      if p ~= q then x = x + bit end
      if p == 1 and q == 1 then y = y + bit end
      l, r, bit = (l - p) / 2, (r - q) / 2, bit * 2
    end
    xor_table[a][b], and_table[a][b] = x, y
  end
end
local function by_bytes(tables, a, b)
  local result, scale = 0, 1
  for _ = 1, 4 do
    local p, q = a % 256, b % 256
    result = result + tables[p][q] * scale
    a, b, scale = floor(a / 256), floor(b / 256), scale * 256
  end
  return result
end
local function xor(a, b) return by_bytes(xor_table, a, b) end
local function band(a, b) return by_bytes(and_table, a, b) end
local function rotate(a, n) local low = a % 2 ^ n return floor(a / 2 ^ n) + low * 2 ^ (32 - n) end
local function shift(a, n) return floor(a / 2 ^ n) end

-- Fractional parts of roots of the first primes, as the standard defines its constants.
local primes, k, start = {}, {}, {}
for n = 2, 311 do
  local is = true
  for _, p in ipairs(primes) do if n % p == 0 then is = false break end end
  if is then primes[#primes + 1] = n end
end
local function fraction(root) return floor((root - floor(root)) * 2 ^ 32) end
for i = 1, 64 do k[i] = fraction(primes[i] ^ (1 / 3)) end
for i = 1, 8 do start[i] = fraction(primes[i] ^ 0.5) end

local function sha256(text)
  local length = #text
  local zeros = (55 - length) % 64
  local bits = length * 8
  local tail = ""
  for _ = 1, 8 do tail = string.char(bits % 256) .. tail bits = floor(bits / 256) end
  text = text .. "\128" .. ("\0"):rep(zeros) .. tail
  local h = {}
  for i = 1, 8 do h[i] = start[i] end
  for chunk = 1, #text, 64 do
    local w = {}
    for i = 1, 16 do
      local a, b, c, d = text:byte(chunk + (i - 1) * 4, chunk + i * 4 - 1)
      w[i] = ((a * 256 + b) * 256 + c) * 256 + d
    end
    for i = 17, 64 do
      local x, y = w[i - 15], w[i - 2]
      local s0 = xor(xor(rotate(x, 7), rotate(x, 18)), shift(x, 3))
      local s1 = xor(xor(rotate(y, 17), rotate(y, 19)), shift(y, 10))
      w[i] = (w[i - 16] + s0 + w[i - 7] + s1) % 2 ^ 32
    end
    local a, b, c, d, e, f, g, last = h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8]
    for i = 1, 64 do
      local s1 = xor(xor(rotate(e, 6), rotate(e, 11)), rotate(e, 25))
      local choice = xor(band(e, f), band(2 ^ 32 - 1 - e, g))
      local t1 = (last + s1 + choice + k[i] + w[i]) % 2 ^ 32
      local s0 = xor(xor(rotate(a, 2), rotate(a, 13)), rotate(a, 22))
      local majority = xor(xor(band(a, b), band(a, c)), band(b, c))
      local t2 = (s0 + majority) % 2 ^ 32
      last, g, f, e, d, c, b, a = g, f, e, (d + t1) % 2 ^ 32, c, b, a, (t1 + t2) % 2 ^ 32
    end
    for i, value in ipairs({ a, b, c, d, e, f, g, last }) do h[i] = (h[i] + value) % 2 ^ 32 end
  end
  local out = {}
  for i = 1, 8 do
    for byte = 3, 0, -1 do out[#out + 1] = string.char(floor(h[i] / 256 ^ byte) % 256) end
  end
  return table.concat(out)
end

local function pad(key, with)
  return (key .. ("\0"):rep(64 - #key)):gsub(".", function(c) return string.char(xor_table[c:byte()][with]) end)
end
local function hmac(key, text)
  if #key > 64 then key = sha256(key) end
  return sha256(pad(key, 0x5c) .. sha256(pad(key, 0x36) .. text))
end

return { sha256 = sha256, hmac = hmac }
