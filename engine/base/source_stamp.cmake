# cmake -DFOLDER=engine -DOUT=source_stamp.cpp -P source_stamp.cmake
# One number of every source of the engine, whoever compiles it and however.
file(GLOB_RECURSE sources RELATIVE ${FOLDER} ${FOLDER}/*.cpp ${FOLDER}/*.h)
list(SORT sources)
set(all "")
foreach(source IN LISTS sources)
  file(SHA256 ${FOLDER}/${source} sum)
  string(APPEND all "${source} ${sum}\n")
endforeach()
string(SHA256 stamp "${all}")
file(CONFIGURE OUTPUT ${OUT} @ONLY CONTENT [[#include "engine/base/source_stamp.h"

namespace legwork {
std::string_view source_stamp() { return "@stamp@"; }
}  // namespace legwork
]])
