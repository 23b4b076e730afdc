# Writes a source file that holds the texts of the schemas.
#
#   cmake -DOUT=FILE -DSCHEMAS=FILE;FILE... -P embed_schemas.cmake
set(rows "")
foreach(path ${SCHEMAS})
  get_filename_component(name ${path} NAME)
  file(READ ${path} text)
  string(APPEND rows "    {\"${name}\", R\"schema(${text})schema\"},\n")
endforeach()
file(WRITE ${OUT} "// Made from the folder schemas/ by src/cli/embed_schemas.cmake.
#include \"cli/embedded_schemas.h\"

namespace yubifu::cli {

const std::vector<EmbeddedSchema>& embedded_schemas() {
  static const std::vector<EmbeddedSchema> list{
${rows}  };
  return list;
}

}  // namespace yubifu::cli
")
