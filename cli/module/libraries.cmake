# The libraries of the module, which are not there for WebAssembly as packages: those that are headers alone as they
# are installed, the others built from Debian's source packages, unpacked in DRYFIT_SOURCES by .ci/pocket.
set(DRYFIT_SOURCES "" CACHE PATH "Folder of the unpacked source packages")

# Links to the headers alone: the system's folder of headers as a whole would be taken for the target's.
set(header_links ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${header_links})
foreach(library boost fmt spdlog CLI nlohmann)
  if(NOT EXISTS /usr/include/${library})
    message(FATAL_ERROR "the headers of ${library} are missing")
  endif()
  file(CREATE_LINK /usr/include/${library} ${header_links}/${library} SYMBOLIC)
endforeach()
function(headers_of name)
  string(REPLACE "::" "_" plain ${name})
  add_library(${plain} INTERFACE)
  add_library(${name} ALIAS ${plain})
  target_include_directories(${plain} SYSTEM INTERFACE ${header_links})
  target_compile_definitions(${plain} INTERFACE ${ARGN})
endfunction()
headers_of(Boost::headers)
headers_of(fmt::fmt FMT_HEADER_ONLY)
headers_of(spdlog::spdlog SPDLOG_FMT_EXTERNAL FMT_HEADER_ONLY SPDLOG_NO_THREAD_ID SPDLOG_DISABLE_DEFAULT_LOGGER)
headers_of(CLI11::CLI11)
headers_of(nlohmann_json::nlohmann_json)

function(source_folder name into)
  file(GLOB found LIST_DIRECTORIES true ${DRYFIT_SOURCES}/${name}-*/)
  list(LENGTH found count)
  if(NOT count EQUAL 1)
    message(FATAL_ERROR "'${DRYFIT_SOURCES}' has no source package ${name}: .ci/pocket unpacks it")
  endif()
  set(${into} ${found} PARENT_SCOPE)
endfunction()

source_folder(yaml-cpp folder)
file(GLOB sources ${folder}/src/*.cpp)
add_library(yaml_cpp STATIC ${sources})
add_library(yaml-cpp::yaml-cpp ALIAS yaml_cpp)
target_include_directories(yaml_cpp SYSTEM PUBLIC ${folder}/include)
target_compile_definitions(yaml_cpp PUBLIC YAML_CPP_STATIC_DEFINE)

# The solver of integer programs: of CBC and what it stands on, the units that planner/fit/fit_solver.cpp needs.
set(cbc_units
  CbcBranchCut CbcBranchDecision CbcBranchDefaultDecision CbcBranchDynamic CbcBranchingObject CbcClique
  CbcCompareDefault CbcCompareDepth CbcCountRowCut CbcCutGenerator CbcDummyBranchingObject CbcEventHandler
  CbcFathom CbcFollowOn CbcFullNodeInfo CbcGeneral CbcGeneralDepth CbcHeuristic CbcHeuristicDive
  CbcHeuristicFPump CbcHeuristicLocal CbcHeuristicRINS CbcMessage CbcModel CbcNode CbcNodeInfo CbcObject
  CbcObjectUpdateData CbcPartialNodeInfo CbcSOS CbcSimpleInteger CbcSimpleIntegerDynamicPseudoCost
  CbcSimpleIntegerPseudoCost CbcStatistics CbcStrategy CbcSubProblem CbcThread CbcTree CbcTreeLocal)
set(cgl_units
  CglClique CglCliqueHelper CglCutGenerator CglDuplicateRow CglFlowCover CglGomory CglKnapsackCover CglMessage
  CglMixedIntegerRounding2 CglPreProcess CglProbing CglStored CglTreeInfo CglTwomir)
set(clp_units
  ClpCholeskyBase ClpCholeskyDense ClpDualRowDantzig ClpDualRowPivot ClpDualRowSteepest ClpDynamicMatrix
  ClpEventHandler ClpFactorization ClpHelperFunctions ClpInterior ClpLinearObjective ClpLsqr ClpMatrixBase ClpMessage
  ClpModel ClpNetworkBasis ClpNetworkMatrix ClpNode ClpNonLinearCost ClpObjective ClpPEDualRowSteepest
  ClpPEPrimalColumnSteepest ClpPESimplex ClpPackedMatrix ClpPdco ClpPlusMinusOneMatrix ClpPredictorCorrector
  ClpPresolve ClpPrimalColumnDantzig ClpPrimalColumnPivot ClpPrimalColumnSteepest ClpQuadraticObjective ClpSimplex
  ClpSimplexDual ClpSimplexNonlinear ClpSimplexOther ClpSimplexPrimal ClpSolve IdiSolve Idiot
  OsiClpSolverInterface)
set(utils_units
  CoinBuild CoinDenseFactorization CoinDenseVector CoinError CoinFactorization1 CoinFactorization2 CoinFactorization3
  CoinFactorization4 CoinFileIO CoinFinite CoinIndexedVector CoinLpIO CoinMessage CoinMessageHandler CoinModel
  CoinModelUseful CoinModelUseful2 CoinMpsIO CoinOslFactorization CoinOslFactorization2 CoinOslFactorization3
  CoinPackedMatrix CoinPackedVector CoinPackedVectorBase CoinPostsolveMatrix CoinPrePostsolveMatrix
  CoinPresolveDoubleton CoinPresolveDual CoinPresolveDupcol CoinPresolveEmpty CoinPresolveFixed CoinPresolveForcing
  CoinPresolveHelperFunctions CoinPresolveImpliedFree CoinPresolveMatrix CoinPresolveSingleton CoinPresolveSubst
  CoinPresolveTighten CoinPresolveTripleton CoinPresolveUseless CoinPresolveZeros CoinSearchTree
  CoinShallowPackedVector CoinSimpFactorization CoinStructuredModel CoinWarmStartBasis)
set(osi_units
  OsiAuxInfo OsiBranchingObject OsiChooseVariable OsiColCut OsiCut OsiCuts OsiNames OsiPresolve OsiRowCut
  OsiRowCutDebugger OsiSolverBranch OsiSolverInterface)
source_folder(coinutils utils)
source_folder(coinor-osi osi)
source_folder(clp clp)
source_folder(coinor-cgl cgl)
source_folder(coinor-cbc cbc)
# What its configure script would find out, all of it standard; its own file for builds without one knows one compiler.
set(standard "")
foreach(header CASSERT CCTYPE CFLOAT CINTTYPES CMATH CSTDARG CSTDDEF CSTDINT CSTDIO CSTDLIB CSTRING CTIME
        INTTYPES_H MEMORY_H STDINT_H STDLIB_H STRING_H STRINGS_H SYS_STAT_H SYS_TYPES_H UNISTD_H)
  string(APPEND standard "#define HAVE_${header} 1\n")
endforeach()
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/solver/configall_system.h CONTENT "@standard@#define STDC_HEADERS 1
#define COIN_C_FINITE std::isfinite
#define COIN_C_ISNAN std::isnan
" @ONLY)
set(header_folders ${PROJECT_BINARY_DIR}/solver)
set(sources)
foreach(folder utils osi clp cgl cbc)
  file(GLOB_RECURSE headers ${${folder}}/*/src/*.hpp)
  file(GLOB_RECURSE found ${${folder}}/*/src/*.cpp)
  foreach(header IN LISTS headers)
    get_filename_component(place ${header} DIRECTORY)
    list(APPEND header_folders ${place})
  endforeach()
  foreach(unit IN LISTS ${folder}_units)
    set(of_unit ${found})
    list(FILTER of_unit INCLUDE REGEX "/${unit}\\.cpp$")
    if(NOT of_unit)
      message(FATAL_ERROR "the sources of the solver have no ${unit}.cpp")
    endif()
    list(APPEND sources ${of_unit})
  endforeach()
endforeach()
list(REMOVE_DUPLICATES header_folders)
add_library(cbc STATIC ${sources})
add_library(PkgConfig::cbc ALIAS cbc)
target_include_directories(cbc SYSTEM PUBLIC ${header_folders})
target_compile_definitions(cbc PRIVATE COINUTILS_BUILD OSI_BUILD CLP_BUILD CGL_BUILD CBC_BUILD COIN_HAS_CLP NDEBUG)
# Older C++: its headers have the keyword "register".
set_target_properties(yaml_cpp cbc PROPERTIES CXX_STANDARD 14)
foreach(library yaml_cpp cbc)
  target_compile_options(${library} PRIVATE -w -Os -ffp-contract=off)
  set_target_properties(${library} PROPERTIES COMPILE_WARNING_AS_ERROR OFF UNITY_BUILD OFF CXX_COMPILER_LAUNCHER "")
endforeach()

# The licences of all that is inside, for the page: ours to say, and theirs word for word.
file(READ ${CMAKE_CURRENT_LIST_DIR}/licences.txt licences)
foreach(licence ${cbc}/LICENSE ${utils}/CoinUtils/LICENSE)
  file(READ ${licence} text)
  string(APPEND licences "${text}\n")
endforeach()
file(WRITE ${PROJECT_BINARY_DIR}/cli/module/licences.txt "${licences}")
