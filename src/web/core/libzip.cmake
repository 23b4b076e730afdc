# libzip as its own build would make it with zlib alone: without encryption, without other
# compressions, and without the functions of other systems.
yubifu_library(zip libzip-* lib/*.c)
get_target_property(sources zip SOURCES)
list(FILTER sources EXCLUDE REGEX "_(crypto|win32|uwp|bzip2|xz|aes)[_a-z0-9]*\\.c$|_win32")
set(made ${PROJECT_BINARY_DIR}/libzip)

string(REGEX MATCH "([0-9]+)\\.([0-9]+)\\.([0-9]+)" libzip_VERSION ${zip_root})
set(libzip_VERSION_MAJOR ${CMAKE_MATCH_1})
set(libzip_VERSION_MINOR ${CMAKE_MATCH_2})
set(libzip_VERSION_PATCH ${CMAKE_MATCH_3})
set(ZIP_STATIC ON)
set(LIBZIP_TYPES_INCLUDE "#include <stdint.h>")
set(ZIP_NULLABLE_DEFINES "#define _Nullable\n#define _Nonnull")
foreach(bits 8 16 32 64)
  set(ZIP_INT${bits}_T int${bits}_t)
  set(ZIP_UINT${bits}_T uint${bits}_t)
endforeach()
configure_file(${zip_root}/cmake-zipconf.h.in ${made}/zipconf.h)

foreach(has FILENO FSEEKO FTELLO LOCALTIME_R MKSTEMP SNPRINTF STRCASECMP STRDUP STRTOLL STRTOULL
        STRUCT_TM_TM_ZONE STDBOOL_H STRINGS_H UNISTD_H DIRENT_H)
  set(HAVE_${has} ON)
endforeach()
set(SIZEOF_OFF_T 8)
set(SIZEOF_SIZE_T 4)
configure_file(${zip_root}/cmake-config.h.in ${made}/config.h)

# The table of its errors, which its own build makes of the comments of its header too: N, S or Z
# for where the number of an error comes from, and what it says.
file(STRINGS ${zip_root}/lib/zip.h errors REGEX "^#define ZIP_ER_[A-Z_]+ +[0-9]+")
set(texts "")
set(kinds "")
foreach(error ${errors})
  string(REGEX MATCH "/\\* ([NSZ]) (.*) \\*/" matched "${error}")
  string(STRIP "${CMAKE_MATCH_2}" text)
  string(APPEND kinds "  ZIP_ET_${CMAKE_MATCH_1},\n")
  string(APPEND texts "  \"${text}\",\n")
endforeach()
string(REGEX REPLACE "ZIP_ET_N" "ZIP_ET_NONE" kinds "${kinds}")
string(REGEX REPLACE "ZIP_ET_S" "ZIP_ET_SYS" kinds "${kinds}")
string(REGEX REPLACE "ZIP_ET_Z" "ZIP_ET_ZLIB" kinds "${kinds}")
file(CONFIGURE OUTPUT ${made}/zip_err_str.c CONTENT "#include \"zipint.h\"
const char *const _zip_err_str[] = {
${texts}};
const int _zip_nerr_str = sizeof(_zip_err_str) / sizeof(_zip_err_str[0]);
const int _zip_err_type[] = {
${kinds}};
" @ONLY)
set_target_properties(zip PROPERTIES SOURCES "${sources};${made}/zip_err_str.c")
# A hundred small files of which these few do not go together with others.
set(apart ${sources})
list(FILTER apart INCLUDE REGEX "zip_source_file_|zip_source_pkware_encode")
set_source_files_properties(${apart} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
set_target_properties(zip PROPERTIES UNITY_BUILD ON UNITY_BUILD_BATCH_SIZE 0)
target_include_directories(zip SYSTEM PUBLIC ${zip_root}/lib ${made})
target_link_libraries(zip PRIVATE zlib)
