# Installs the build into a scratch prefix, then configures, builds and runs a small project that finds it there.
# Run as: cmake -DBUILD=<build tree> -DSCRATCH=<folder> -DCONSUMER=<its source> -DCOMPILER=... -DFLAGS=... -P ...
cmake_minimum_required(VERSION 3.25)

file(REMOVE_RECURSE ${SCRATCH})
execute_process(COMMAND ${CMAKE_COMMAND} --install ${BUILD} --prefix ${SCRATCH}/prefix
  OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${CMAKE_COMMAND} -G Ninja -S ${CONSUMER} -B ${SCRATCH}/build
  -DCMAKE_PREFIX_PATH=${SCRATCH}/prefix -DCMAKE_CXX_COMPILER=${COMPILER} "-DCMAKE_CXX_FLAGS=${FLAGS}"
  COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${CMAKE_COMMAND} --build ${SCRATCH}/build COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${SCRATCH}/build/consumer COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${SCRATCH}/prefix/bin/clearstroke --help OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
