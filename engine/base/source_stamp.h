#pragma once
// What is kept between runs carries the engine's stamp: what another engine has worked out is of no
// use, though its version says the same.

#include <string_view>

namespace legwork {

// 64 hexadecimal digits of all sources of the engine; made by source_stamp.cmake when it is built.
std::string_view source_stamp();

}  // namespace legwork
