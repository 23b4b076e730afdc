# libsndfile, of its formats WAV alone with what may stand in one: a browser hands every recording
# over as WAV, and each further format would be sent to everyone.
yubifu_library(sndfile libsndfile-* src/sndfile.c src/common.c src/command.c src/file_io.c
  src/strings.c src/chanmap.c src/chunk.c src/broadcast.c src/cart.c src/id3.c src/audio_detect.c
  src/interleave.c src/dither.c src/pcm.c src/float32.c src/double64.c src/ulaw.c src/alaw.c
  src/ima_adpcm.c src/ms_adpcm.c src/wav.c src/wavlike.c)
set(made ${PROJECT_BINARY_DIR}/libsndfile)

foreach(is COMPILER_IS_GCC CPU_IS_LITTLE_ENDIAN HAVE_CALLOC HAVE_CEIL HAVE_DECL_S_IRGRP
        HAVE_ENDIAN_H HAVE_FLOOR HAVE_FMOD HAVE_FREE HAVE_FSTAT HAVE_FSYNC HAVE_FTRUNCATE
        HAVE_GETTIMEOFDAY HAVE_GMTIME HAVE_GMTIME_R HAVE_INTTYPES_H HAVE_LOCALE_H HAVE_LOCALTIME
        HAVE_LOCALTIME_R HAVE_LRINT HAVE_LRINTF HAVE_LROUND HAVE_LSEEK HAVE_MALLOC HAVE_MEMORY_H
        HAVE_OPEN HAVE_READ HAVE_REALLOC HAVE_SNPRINTF HAVE_SSIZE_T HAVE_STDBOOL_H HAVE_STDINT_H
        HAVE_STDLIB_H HAVE_STRINGS_H HAVE_STRING_H HAVE_SYS_STAT_H HAVE_SYS_TIME_H
        HAVE_SYS_TYPES_H HAVE_UNISTD_H HAVE_VSNPRINTF HAVE_WRITE)
  set(${is} ON)
endforeach()
set(PACKAGE_NAME libsndfile)
string(REGEX MATCH "[0-9.]+$" CPACK_PACKAGE_VERSION_FULL ${sndfile_root})
configure_file(${sndfile_root}/src/config.h.cmake ${made}/config.h)

# Where it would open or decode another format, it is told that this one cannot be.
set(elsewhere "")
foreach(format aiff au avr caf dwd flac htk ircam mat4 mat5 mpc2k mpeg nist ogg paf pvf raw rf64 rx2
        sd2 sds svx txw voc w64 wve xi)
  string(APPEND elsewhere "int ${format}_open(SF_PRIVATE *psf) { return SFE_UNIMPLEMENTED; }\n")
endforeach()
foreach(codec g72x gsm610 nms_adpcm)
  string(APPEND elsewhere "int ${codec}_init(SF_PRIVATE *psf) { return SFE_UNIMPLEMENTED; }\n")
endforeach()
string(APPEND elsewhere "int mpeg_init(SF_PRIVATE *psf, int mode, int metadata)"
  " { return SFE_UNIMPLEMENTED; }\n")
file(CONFIGURE OUTPUT ${made}/elsewhere.c CONTENT "#include \"sfconfig.h\"
#include \"sndfile.h\"
#include \"common.h\"
${elsewhere}" @ONLY)
target_sources(sndfile PRIVATE ${made}/elsewhere.c)
target_include_directories(sndfile SYSTEM PUBLIC ${sndfile_root}/include)
target_include_directories(sndfile PRIVATE ${sndfile_root}/src ${made})
