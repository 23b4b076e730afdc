# The libraries for WebAssembly, under the names that find_package and pkg-config give them
# elsewhere. Their sources lie in YUBIFU_SOURCES, where src/web/sources.sh puts them; those that are
# headers alone are the machine's own.
enable_language(C)
set(YUBIFU_SOURCES "" CACHE PATH "The folder of the unpacked Debian sources")

# yubifu_library(NAME FOLDER SOURCES...): a library of the sources that match in a folder of
# YUBIFU_SOURCES. Their warnings are their makers'.
function(yubifu_library name folder)
  file(GLOB root ${YUBIFU_SOURCES}/${folder})
  list(TRANSFORM ARGN PREPEND ${root}/)
  file(GLOB sources ${ARGN})
  add_library(${name} STATIC ${sources})
  target_compile_options(${name} PRIVATE -w)
  set_target_properties(${name} PROPERTIES UNITY_BUILD OFF)
  set(${name}_root ${root} PARENT_SCOPE)
endfunction()

yubifu_library(fmt fmtlib-* src/format.cc)
target_include_directories(fmt SYSTEM PUBLIC ${fmt_root}/include)
# Without what nothing here formats, and without the locales of the C++ library, which come as a whole.
target_compile_definitions(fmt PUBLIC FMT_USE_FLOAT=0 FMT_USE_LONG_DOUBLE=0
  FMT_STATIC_THOUSANDS_SEPARATOR=',')
add_library(fmt::fmt ALIAS fmt)

yubifu_library(pugixml pugixml-* src/pugixml.cpp)
target_include_directories(pugixml SYSTEM PUBLIC ${pugixml_root}/src)
target_compile_definitions(pugixml PUBLIC PUGIXML_NO_XPATH PUGIXML_NO_STL)
add_library(pugixml::pugixml ALIAS pugixml)

# utf8proc finds its table beside itself.
yubifu_library(utf8proc utf8proc-*)
set(made ${PROJECT_BINARY_DIR}/utf8proc)
configure_file(${utf8proc_root}/utf8proc.c ${made}/utf8proc.c COPYONLY)
add_custom_command(OUTPUT ${made}/utf8proc_data.c
  COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/characters.py ${utf8proc_root}/utf8proc_data.c
          ${made}/utf8proc_data.c
  DEPENDS ${CMAKE_CURRENT_LIST_DIR}/characters.py VERBATIM)
set_source_files_properties(${made}/utf8proc_data.c PROPERTIES HEADER_FILE_ONLY ON)
target_sources(utf8proc PRIVATE ${made}/utf8proc.c ${made}/utf8proc_data.c)
target_include_directories(utf8proc SYSTEM PUBLIC ${utf8proc_root})
target_compile_definitions(utf8proc PUBLIC UTF8PROC_STATIC)
set(UTF8PROC_LINK_LIBRARIES utf8proc)

# Of glib, libsmf needs arrays of pointers and the log: a header of our own has them.
add_library(glib STATIC ${CMAKE_CURRENT_LIST_DIR}/glib/glib.c)
target_include_directories(glib SYSTEM PUBLIC ${CMAKE_CURRENT_LIST_DIR}/glib)
add_library(PkgConfig::GLIB ALIAS glib)

yubifu_library(smf libsmf-* src/smf.c src/smf_decode.c src/smf_load.c src/smf_save.c src/smf_tempo.c)
target_include_directories(smf SYSTEM PUBLIC ${smf_root}/src)
target_compile_definitions(smf PRIVATE G_LOG_DOMAIN="libsmf" PACKAGE_NAME="libsmf"
  PACKAGE_VERSION="1.3")
target_link_libraries(smf PUBLIC glib)
file(MAKE_DIRECTORY ${PROJECT_BINARY_DIR}/headers)
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/smf/config.h CONTENT "")
target_include_directories(smf PRIVATE ${PROJECT_BINARY_DIR}/smf)
add_library(PkgConfig::SMF ALIAS smf)

yubifu_library(zlib zlib-* adler32.c crc32.c deflate.c inffast.c inflate.c inftrees.c trees.c
  zutil.c)
target_include_directories(zlib SYSTEM PUBLIC ${zlib_root})

include(${CMAKE_CURRENT_LIST_DIR}/libzip.cmake)
add_library(PkgConfig::LIBZIP ALIAS zip)

include(${CMAKE_CURRENT_LIST_DIR}/libsndfile.cmake)
add_library(PkgConfig::SNDFILE ALIAS sndfile)

yubifu_library(kissfft kissfft-* kiss_fft.c kiss_fftr.c)
target_include_directories(kissfft SYSTEM PUBLIC ${kissfft_root})
add_library(PkgConfig::KISSFFT ALIAS kissfft)

# Headers alone. Each has a folder of the build, since the machine's own holds those of its C library
# too.
foreach(header nlohmann cxxopts.hpp)
  find_file(path_of_${header} ${header} PATHS /usr/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH
    REQUIRED)
endforeach()
set(made ${PROJECT_BINARY_DIR}/nlohmann_json)
file(MAKE_DIRECTORY ${made})
file(CREATE_LINK ${path_of_nlohmann} ${made}/nlohmann SYMBOLIC)
add_library(nlohmann_json::nlohmann_json INTERFACE IMPORTED GLOBAL)
target_include_directories(nlohmann_json::nlohmann_json SYSTEM INTERFACE ${made})

# Its locale is always the classic one, as that of isalnum alone is here.
set(made ${PROJECT_BINARY_DIR}/cxxopts)
file(READ ${path_of_cxxopts.hpp} options)
string(REPLACE ", std::locale::classic())" ")" options "${options}")
file(CONFIGURE OUTPUT ${made}/cxxopts.hpp CONTENT "${options}" @ONLY)
add_library(cxxopts::cxxopts INTERFACE IMPORTED GLOBAL)
target_include_directories(cxxopts::cxxopts SYSTEM INTERFACE ${made})
target_compile_definitions(cxxopts::cxxopts INTERFACE CXXOPTS_NO_RTTI)
