# One static library a folder of src/, linked only to the folders it may include (the layer
# table of DEVELOPERS.md). A folder's sources are found by glob, so a new file needs no edit.
#
#   yubifu_module(notation USES base model LINKS fmt::fmt)
function(yubifu_module name)
  cmake_parse_arguments(MODULE "" "" "USES;LINKS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  add_library(yubifu_${name} STATIC ${sources})
  target_include_directories(yubifu_${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  list(TRANSFORM MODULE_USES PREPEND yubifu_)
  target_link_libraries(yubifu_${name} PUBLIC ${MODULE_USES} PRIVATE ${MODULE_LINKS})
endfunction()

# One test program a folder of tests/, of all its .cpp files.
#
#   yubifu_test(notation USES notation)
function(yubifu_test name)
  cmake_parse_arguments(TEST "" "" "USES;LINKS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  add_executable(${name}_test ${sources})
  target_include_directories(${name}_test PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  list(TRANSFORM TEST_USES PREPEND yubifu_)
  target_link_libraries(${name}_test PRIVATE ${TEST_USES} ${TEST_LINKS} GTest::gmock GTest::gtest_main)
  target_compile_definitions(${name}_test PRIVATE
    YUBIFU_SOURCE_DIR="${PROJECT_SOURCE_DIR}" YUBIFU_PROGRAM="${PROJECT_BINARY_DIR}/yubifu")
  add_test(NAME ${name} COMMAND ${name}_test)
endfunction()
