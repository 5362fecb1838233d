# Who may include whom. Run as: cmake -DROOT=<project folder> -P check_layers.cmake
# Prints every include that breaks the table in DEVELOPERS.md, every stray top-level entry, and fails if there is one.
cmake_minimum_required(VERSION 3.25)

set(own_folders "models|sim|scenarios|analysis|tests|docs")
set(may_include_models "models")
set(may_include_sim "models|sim")
set(may_include_scenarios "models|sim|scenarios")
set(may_include_analysis "models|sim|analysis")
set(may_include_cli "models|sim|scenarios|analysis")

# header pattern => folders that may use it (tests may use all)
set(confined
  "toml[+][+]/=>scenarios/io/"
  "udunits2?[.]h=>scenarios/io/"
  "CLI/=>analysis/cli/"
  "(tbb|oneapi)/=>analysis/"
  "nlohmann/=>analysis/"
  "(hdf5|H5[A-Za-z]+|hdf5_hl)[.]h=>analysis/"
  "mpi[.]h=>analysis/"
  "boost/numeric/odeint=>sim/"
  "(thread|mutex|shared_mutex|condition_variable|future|filesystem|fstream|iostream|chrono)$=>scenarios/|analysis/"
  "(unistd|pthread)[.]h=>analysis/"
  "(cvode|cvodes|arkode|ida|sundials|nvector|sunmatrix|sunlinsol|gtest|gmock|rapidcheck|benchmark)[/.]=>tests/")

set(faults "")

function(check_include file layer target)
  if(target MATCHES "^(${own_folders})/")
    if(target MATCHES "^(tests|docs)/" OR NOT target MATCHES "^(${may_include_${layer}})/")
      list(APPEND faults "${file}: ${layer} must not include ${target}")
    elseif(target MATCHES "^analysis/cli/" AND NOT layer STREQUAL "cli")
      list(APPEND faults "${file}: nobody includes analysis/cli, but here is ${target}")
    endif()
  endif()
  foreach(rule IN LISTS confined)
    string(REGEX MATCH "^(.*)=>(.*)$" _ "${rule}")
    set(folders "${CMAKE_MATCH_2}")
    if(target MATCHES "^${CMAKE_MATCH_1}" AND NOT file MATCHES "^(${folders})")
      list(APPEND faults "${file}: <${target}> belongs only in ${folders}")
    endif()
  endforeach()
  set(faults "${faults}" PARENT_SCOPE)
endfunction()

foreach(folder models sim scenarios analysis)
  file(GLOB_RECURSE sources RELATIVE ${ROOT} ${ROOT}/${folder}/*.hpp ${ROOT}/${folder}/*.h ${ROOT}/${folder}/*.cpp)
  foreach(file IN LISTS sources)
    set(layer ${folder})
    if(file MATCHES "^analysis/cli/")
      set(layer cli)
    endif()
    file(STRINGS ${ROOT}/${file} lines REGEX "^[ \t]*#[ \t]*include[ \t]*[<\"]")
    foreach(line IN LISTS lines)
      string(REGEX MATCH "([<\"])([^>\"]+)" _ "${line}")
      set(quote "${CMAKE_MATCH_1}")
      set(target "${CMAKE_MATCH_2}")
      if(quote STREQUAL "\"" AND NOT target MATCHES "^(${own_folders})/")
        list(APPEND faults "${file}: write \"${target}\" from the project's root")
      endif()
      check_include(${file} ${layer} ${target})
    endforeach()
  endforeach()
endforeach()

# The top level: what is tracked, or everything but build trees where there is no repository.
execute_process(COMMAND git -c safe.directory=* -C ${ROOT} ls-files
  OUTPUT_VARIABLE tracked ERROR_QUIET RESULT_VARIABLE no_repository)
if(no_repository OR tracked STREQUAL "")
  file(GLOB entries RELATIVE ${ROOT} ${ROOT}/*)
  list(FILTER entries EXCLUDE REGEX "^build")
else()
  string(REGEX REPLACE "\n" ";" entries "${tracked}")
  list(TRANSFORM entries REPLACE "/.*" "")
  list(REMOVE_DUPLICATES entries)
endif()
foreach(entry IN LISTS entries)
  if(entry AND NOT entry MATCHES
      "^(CMakeLists.txt|CMakePresets.json|README.md|DEVELOPERS.md|LICENSE|sim|models|scenarios|tests|analysis|docs|[.].*)$")
    list(APPEND faults "${entry}: not a top-level entry of this project")
  endif()
endforeach()

if(faults)
  list(JOIN faults "\n  " text)
  message(FATAL_ERROR "layering broken:\n  ${text}")
endif()
message(STATUS "layers respected")
