# The layer check must catch a planted fault of every kind, and pass a clean tree.
# Run as: cmake -DCHECK=<check_layers.cmake> -DSCRATCH=<empty folder> -P self_test.cmake
cmake_minimum_required(VERSION 3.25)

# plant(FILE LINE EXPECTED): a tree with that one line must be refused with EXPECTED in the message; "" = accepted.
function(plant file line expected)
  file(REMOVE_RECURSE ${SCRATCH})
  file(WRITE ${SCRATCH}/models/clean.hpp "#include <vector>\n#include \"models/other.hpp\"\n")
  file(WRITE ${SCRATCH}/${file} "#pragma once\n${line}\n")
  execute_process(COMMAND ${CMAKE_COMMAND} -DROOT=${SCRATCH} -P ${CHECK}
    RESULT_VARIABLE status OUTPUT_QUIET ERROR_VARIABLE message)
  if(expected STREQUAL "" AND NOT status EQUAL 0)
    message(SEND_ERROR "${file} with '${line}' was refused:\n${message}")
  elseif(NOT expected STREQUAL "" AND (status EQUAL 0 OR NOT message MATCHES "${file}: [^\n]*${expected}"))
    message(SEND_ERROR "${file} with '${line}' was not caught:\n${message}")
  endif()
endfunction()

# Between layers
plant(models/a.hpp "#include \"sim/network.hpp\"" "models must not include sim/network.hpp")
plant(models/a.cpp "  # include <scenarios/scenario.hpp>" "models must not include scenarios/")
plant(sim/a.hpp "#include \"analysis/orders.hpp\"" "sim must not include analysis/")
plant(sim/a.cpp "#include \"scenarios/scenario.hpp\"" "sim must not include scenarios/")
plant(scenarios/io/a.cpp "#include \"analysis/orders.hpp\"" "scenarios must not include analysis/")
plant(analysis/a.cpp "#include \"scenarios/scenario.hpp\"" "analysis must not include scenarios/")
plant(analysis/a.cpp "#include \"analysis/cli/commands.hpp\"" "nobody includes analysis/cli")
plant(analysis/cli/a.cpp "#include \"tests/helper.hpp\"" "cli must not include tests/")
plant(sim/a.cpp "#include \"network.hpp\"" "from the project's root")
plant(analysis/cli/a.cpp "#include \"scenarios/scenario.hpp\"" "")
plant(scenarios/a.cpp "#include \"sim/network.hpp\"" "")

# Libraries kept to one place
plant(scenarios/a.cpp "#include <toml++/toml.h>" "belongs only in scenarios/io/")
plant(scenarios/a.cpp "#include <udunits2.h>" "belongs only in scenarios/io/")
plant(scenarios/io/a.cpp "#include <toml++/toml.h>" "")
plant(analysis/a.cpp "#include <CLI/CLI.hpp>" "belongs only in analysis/cli/")
plant(sim/a.cpp "#include <tbb/parallel_for.h>" "belongs only in analysis/")
plant(sim/a.cpp "#include <nlohmann/json.hpp>" "belongs only in analysis/")
plant(scenarios/a.cpp "#include <H5Cpp.h>" "belongs only in analysis/")
plant(models/a.cpp "#include <boost/numeric/odeint.hpp>" "belongs only in sim/")
plant(sim/a.cpp "#include <boost/numeric/odeint/stepper/base.hpp>" "")
plant(analysis/a.cpp "#include <gtest/gtest.h>" "belongs only in tests/")
plant(sim/a.cpp "#include <cvode/cvode.h>" "belongs only in tests/")

# No threads, files, console or clock below scenarios
plant(models/a.hpp "#include <thread>" "belongs only in")
plant(sim/a.cpp "#include <filesystem>" "belongs only in")
plant(sim/a.cpp "#include <fstream>" "belongs only in")
plant(analysis/a.cpp "#include <thread>" "")

# The top level
plant(notes.txt "" "not a top-level entry")

file(REMOVE_RECURSE ${SCRATCH})
