# Debian's emscripten. Each file goes to its clang directly, with the flags that em++ would give:
# em++ is a script that takes longer to start than most files of C take to compile. It links.
include(/usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake)

execute_process(COMMAND em++ --cflags -fwasm-exceptions OUTPUT_VARIABLE flags
  OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND em-config LLVM_ROOT OUTPUT_VARIABLE folder OUTPUT_STRIP_TRAILING_WHITESPACE
  COMMAND_ERROR_IS_FATAL ANY)
# What every engine that has exceptions knows too.
string(APPEND flags " -msign-ext -mnontrapping-fptoint -mbulk-memory")
set(rest "${flags} <DEFINES> <INCLUDES> <FLAGS> -o <OBJECT> -c <SOURCE>")
set(CMAKE_C_COMPILE_OBJECT "${folder}/clang-14 ${rest}")
set(CMAKE_CXX_COMPILE_OBJECT "${folder}/clang++-14 -fno-rtti ${rest}")
# Its scripts find the modules that Debian packages for Node.js only when told where they are.
set(CMAKE_CXX_LINK_EXECUTABLE "env NODE_PATH=/usr/share/nodejs <CMAKE_CXX_COMPILER> <FLAGS> \
<CMAKE_CXX_LINK_FLAGS> <LINK_FLAGS> <OBJECTS> -o <TARGET> <LINK_LIBRARIES>")

# Small, and in few pieces: the headers take longer to compile than what includes them.
set(CMAKE_BUILD_TYPE MinSizeRel CACHE STRING "")
set(CMAKE_UNITY_BUILD ON)
set(CMAKE_UNITY_BUILD_BATCH_SIZE 12)
