// strerror for WebAssembly, linked by --wrap: its C library says some errors in other words than
// the systems on which the program runs elsewhere, and than its catalogue of translations.
#include <array>
#include <cerrno>

namespace {

struct Sentence {
  int error;
  const char* text;
};

constexpr std::array kOtherwise{
    Sentence{EBUSY, "Device or resource busy"},
    Sentence{EDQUOT, "Disk quota exceeded"},
    Sentence{EIO, "Input/output error"},
    Sentence{ELOOP, "Too many levels of symbolic links"},
    Sentence{EMFILE, "Too many open files"},
    Sentence{ENAMETOOLONG, "File name too long"},
    Sentence{ESPIPE, "Illegal seek"},
    Sentence{EXDEV, "Invalid cross-device link"},
};

}  // namespace

extern "C" const char* __real_strerror(int error);

extern "C" const char* __wrap_strerror(int error) {
  for (const Sentence& sentence : kOtherwise) {
    if (sentence.error == error) return sentence.text;
  }
  return __real_strerror(error);
}
