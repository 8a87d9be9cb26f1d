-- SPDX-License-Identifier: GPL-3.0-or-later
-- Requests for wrk that are never the same twice in a row: goals, places, restrictions, numbers.
local goals = {"hamstrings", "quadriceps", "glutes", "calves", "biceps", "triceps", "chest",
  "upper+back", "soleus", "adductors", "lats", "abs", "deltoid", "forearm", "neck", "hip-extension"}
local places = {"hotel-room", "full-gym", "bands-only", "office", "home-basic", "dumbbells-only",
  "outdoors", "school-hall", "travel-bag", "garage-gym"}
local avoids = {"", "&avoid=overhead", "&avoid=lying-prone", "&avoid=axial-load", "&avoid=grip",
  "&avoid=floor-transfer"}
local number = 0
local kind = "json"

function init(words)
  kind = words[1] or kind
end

local function next_of(list)
  local found = list[number % #list + 1]
  number = math.floor(number / #list)
  return found
end

local asked = 0
function request()
  if kind == "static" then
    return wrk.format("GET", "/static.json")
  end
  asked = asked + 1
  number = asked
  local path = "/pick?goal=" .. next_of(goals) .. "&have=" .. next_of(places) .. next_of(avoids)
  path = path .. "&top=" .. (number % 20 + 1)
  return wrk.format("GET", kind == "json" and path .. "&format=json" or path)
end
