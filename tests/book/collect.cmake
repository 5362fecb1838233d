# Runs the programs that hold checks, collects their records, then writes or checks the page.
# -DPROGRAMS=a|b -DWRITER=write_book -DROOT=project -DRECORDS=file -DMODE=write|check
file(REMOVE ${RECORDS})
string(REPLACE "|" ";" PROGRAMS "${PROGRAMS}")
foreach(program IN LISTS PROGRAMS)
  execute_process(
    COMMAND ${CMAKE_COMMAND} -E env CLEARSTROKE_BOOK=${RECORDS} ${program} --gtest_brief=1
    WORKING_DIRECTORY ${ROOT} RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "${program} failed\n${said}")
  endif()
endforeach()
set(check)
if(MODE STREQUAL check)
  set(check --check)
endif()
execute_process(COMMAND ${WRITER} ${RECORDS} ${ROOT}/docs/references.bib ${ROOT}/docs/verification.md ${check}
  RESULT_VARIABLE failed)
if(failed)
  message(FATAL_ERROR "docs/verification.md is not current")
endif()
