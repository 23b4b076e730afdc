# Writes a source file that holds the bytes of files, as the list that `embedded_files.h` declares.
#
#   cmake -DOUT=FILE -DLIST=NAME "-DFILES=FILE;FILE..." -P embed.cmake
set(arrays "")
set(rows "")
set(index 0)
foreach(path ${FILES})
  get_filename_component(name ${path} NAME)
  file(READ ${path} bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(APPEND arrays "  static const unsigned char bytes_${index}[] = {${bytes}0};\n")
  string(APPEND rows "    {\"${name}\", text(bytes_${index}, sizeof bytes_${index} - 1)},\n")
  math(EXPR index "${index} + 1")
endforeach()
file(WRITE ${OUT} "// Made by src/cli/embed.cmake.
#include \"cli/embedded_files.h\"

#include <cstddef>

namespace yubifu::cli {

const std::vector<EmbeddedFile>& ${LIST}() {
${arrays}  const auto text = [](const unsigned char* bytes, std::size_t size) {
    return std::string_view(reinterpret_cast<const char*>(bytes), size);
  };
  static const std::vector<EmbeddedFile> list{
${rows}  };
  return list;
}

}  // namespace yubifu::cli
")
