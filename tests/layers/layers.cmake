cmake_minimum_required(VERSION 3.25)
# Who may include whom. cmake -DROOT=<repository> -P layers.cmake reads every #include in engine/ and
# gui/ against these tables and fails with one line for each include that they do not allow.
# Linking would not stop one: Debian puts SFML, Dear ImGui, Boost and the rest on the system path.

# folder : folders it may use, and with them whatever those may use.
set(may_use
  "base:" "config:base" "circuit:base" "plant:base" "unit:config,circuit,plant" "fault:unit"
  "sim:unit,fault" "meter:circuit,plant" "session:sim,meter" "suspects:session" "score:suspects"
  "commission:score" "terminal:commission")
# The window sees no fault: these, and of session and score only the headers made for front ends.
set(gui_folders base config circuit plant unit terminal)
set(gui_headers engine/session/view.h engine/session/door.h engine/score/debrief.h engine/score/lead.h
  engine/score/making.h engine/score/chart_axes.h engine/commission/day_chart.h engine/commission/new_scenario.h
  engine/commission/check_files.h)
# library header (regex) = files that may include it (regex).
set(libraries
  "yaml-cpp/=engine/config/" "boost/locale=engine/base/catalogue\\.cpp$" "boost/graph=engine/circuit/.*\\.cpp$"
  "nlohmann/=engine/((session|score|commission|terminal)/.*\\.cpp|commission/schema_words\\.h)$" "SFML/=gui/" "imgui=gui/" "backends/imgui=gui/" "stb/=gui/" "GL/=gui/"
  "CLI/=(engine/terminal/(arguments|terminal)|gui/main)\\.cpp$" "sqlite3=engine/(session|score|terminal)/.*\\.cpp$"
  "(ngspice/|sharedspice|suitesparse/|klu|quadmath|gtest/|gmock/|benchmark/)=only in tests/")

foreach(row ${may_use})
  string(REGEX MATCH "^([a-z]+):(.*)$" row "${row}")
  set(folder ${CMAKE_MATCH_1})
  string(REPLACE "," ";" direct "${CMAKE_MATCH_2}")
  set(allowed_${folder} ${folder} ${direct})
  foreach(other ${direct})
    list(APPEND allowed_${folder} ${allowed_${other}})
  endforeach()
endforeach()
set(allowed_gui ${gui_folders})

set(findings 0)
function(finding text)
  message("${text}")
  math(EXPR n "${findings} + 1")
  set(findings ${n} PARENT_SCOPE)
endfunction()

file(GLOB_RECURSE files RELATIVE ${ROOT} ${ROOT}/engine/*.h ${ROOT}/engine/*.cpp ${ROOT}/gui/*.h ${ROOT}/gui/*.cpp)
foreach(file ${files})
  string(REGEX REPLACE "^(engine/)?([^/]+)/.*$" "\\2" folder ${file})
  if(NOT DEFINED allowed_${folder})
    finding("${file}: folder ${folder} has no row in may_use")
    continue()
  endif()
  file(STRINGS ${ROOT}/${file} lines REGEX "^[ \t]*#[ \t]*include")
  foreach(line ${lines})
    if(NOT line MATCHES "[<\"]([^>\"]+)[>\"]")
      finding("${file}: cannot read ${line}")
      continue()
    endif()
    set(header ${CMAKE_MATCH_1})
    if(line MATCHES "\"" AND NOT header MATCHES "^(engine|gui)/")
      finding("${file}: \"${header}\" is not spelled from the repository root")
    elseif(header MATCHES "^gui/" AND NOT folder STREQUAL "gui")
      finding("${file}: ${folder} may not use ${header}")
    elseif(header MATCHES "^engine/([^/]+)/" AND NOT CMAKE_MATCH_1 IN_LIST allowed_${folder}
           AND NOT (folder STREQUAL "gui" AND header IN_LIST gui_headers))
      finding("${file}: ${folder} may not use ${header}")
    endif()
    foreach(row ${libraries})
      string(REGEX MATCH "^([^=]+)=(.*)$" row "${row}")
      set(place ${CMAKE_MATCH_2})
      if(header MATCHES "^${CMAKE_MATCH_1}" AND NOT file MATCHES "^${place}")
        finding("${file}: <${header}> belongs in ${place}")
      endif()
    endforeach()
  endforeach()
endforeach()

# What the window's headers reach must not reach a fault either: a drawing cannot give away the answer.
set(reached ${gui_headers})
set(next ${gui_headers})
while(next)
  list(POP_FRONT next header)
  if(EXISTS ${ROOT}/${header})
    if(header MATCHES "^engine/(fault|suspects)/")
      finding("${header}: reached from the headers made for front ends")
    endif()
    file(STRINGS ${ROOT}/${header} lines REGEX "^[ \t]*#[ \t]*include[ \t]*\"engine/")
    foreach(line ${lines})
      string(REGEX MATCH "\"([^\"]+)\"" line "${line}")
      if(NOT CMAKE_MATCH_1 IN_LIST reached)
        list(APPEND reached ${CMAKE_MATCH_1})
        list(APPEND next ${CMAKE_MATCH_1})
      endif()
    endforeach()
  endif()
endwhile()

list(LENGTH files n)
if(findings GREATER 0)
  message(FATAL_ERROR "layers: ${findings} findings in ${n} files")
endif()
message("layers: ${n} files, no findings")
