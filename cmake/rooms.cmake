# barm_room(NAME [LINKS lib...] [SOURCES file...]): the folder src/NAME as one library target `barm_NAME`.
# Without SOURCES every .cpp of the folder belongs to it. A room may link only rooms below it; tools/check_directions.py
# holds the includes to the same rule.
function(barm_room name)
  cmake_parse_arguments(ROOM "" "" "LINKS;PRIVATE_LINKS;SOURCES" ${ARGN})
  if(NOT ROOM_SOURCES)
    file(GLOB ROOM_SOURCES CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/*.cpp")
  endif()
  add_library(barm_${name} STATIC ${ROOM_SOURCES})
  target_include_directories(barm_${name} PUBLIC "${CMAKE_SOURCE_DIR}/src")
  target_link_libraries(barm_${name} PUBLIC ${ROOM_LINKS} PRIVATE barm_flags ${ROOM_PRIVATE_LINKS})
endfunction()

# barm_test(NAME [LINKS lib...]): every *_test.cpp of the calling folder as one GoogleTest program, each test known to ctest.
# Published rows are read from tests/published, whose place is compiled in.
function(barm_test name)
  cmake_parse_arguments(TEST "" "" "LINKS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/*_test.cpp")
  add_executable(${name}_test ${sources})
  target_link_libraries(${name}_test PRIVATE ${TEST_LINKS} barm_test_support barm_flags GTest::gtest_main)
  gtest_discover_tests(${name}_test TEST_PREFIX "${name}." DISCOVERY_TIMEOUT 60)
endfunction()
