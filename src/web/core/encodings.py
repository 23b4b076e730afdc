"""Writes the tables of encodings for iconv.cpp, as the C library of this machine has them, so that
the program reads and writes the same bytes wherever it runs.

Use: python3 encodings.py FILE
"""
import ctypes
import glob
import re
import sys

# What files of notation programs and players declare or hold: Europe's and Japan's. Those that
# keep a state between characters are left out.
ENCODINGS = (
    [f"ISO-8859-{n}" for n in (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 13, 14, 15, 16)]
    + [f"CP{n}" for n in (1250, 1251, 1252, 1253, 1254, 1256, 1257)]
    + ["IBM437", "IBM850", "IBM852", "MACINTOSH", "KOI8-R", "KOI8-U", "SJIS", "CP932",
       "EUC-JP"])

libc = ctypes.CDLL(None, use_errno=True)
libc.iconv_open.restype = ctypes.c_void_p
libc.iconv.restype = ctypes.c_size_t
FAILED = ctypes.c_size_t(-1).value


class Converter:
    def __init__(self, to, origin):
        self.handle = ctypes.c_void_p(libc.iconv_open(to.encode(), origin.encode()))
        self.known = self.handle.value != ctypes.c_void_p(-1).value
        self.source = ctypes.create_string_buffer(4)
        self.target = ctypes.create_string_buffer(16)
        self.at, self.left = ctypes.c_void_p(), ctypes.c_size_t()
        self.out, self.room = ctypes.c_void_p(), ctypes.c_size_t()
        self.arguments = [self.handle] + [
            ctypes.byref(each) for each in (self.at, self.left, self.out, self.room)]

    def __call__(self, data):
        """The bytes in the other encoding; nothing where they are none or not whole."""
        self.source[:len(data)] = data
        self.at.value, self.left.value = ctypes.addressof(self.source), len(data)
        self.out.value, self.room.value = ctypes.addressof(self.target), 16
        done = libc.iconv(*self.arguments)
        return None if done == FAILED else self.target.raw[:16 - self.room.value]


def character(utf16):
    if utf16 is not None and len(utf16) != 2:
        raise SystemExit("a character beyond the tables")
    return utf16 and int.from_bytes(utf16, "little")


def decoded(name):
    """The character of each code, a code being its bytes as one number."""
    convert = Converter("UTF-16LE", name)
    characters = {}
    leads = [b""]
    for _ in range(3):
        next_leads = []
        for lead in leads:
            for byte in range(256):
                code = lead + bytes([byte])
                found = character(convert(code))
                if found is not None:
                    characters[int.from_bytes(code, "big")] = found
                elif ctypes.get_errno() == 22:  # EINVAL: it goes on
                    next_leads.append(code)
        leads = next_leads
    return characters


def exceptions(name, characters):
    """Characters that are not written as the first code that reads as them; 0 for no code."""
    convert = Converter(name, "UTF-16LE")
    first = {}
    for code in sorted(characters):
        first.setdefault(characters[code], code)
    found = {}
    for one in range(0x10000):
        if 0xD800 <= one < 0xE000:
            continue
        code = convert(one.to_bytes(2, "little"))
        number = int.from_bytes(code, "big") if code else 0
        if number != first.get(one, 0):
            found[one] = number
    return found


def aliases():
    names = {}
    for path in glob.glob("/usr/lib/*/gconv/gconv-modules*") + glob.glob(
            "/usr/lib/*/gconv/gconv-modules.d/*.conf"):
        try:
            lines = open(path, encoding="ascii").read().splitlines()
        except (IsADirectoryError, UnicodeDecodeError):
            continue
        for line in lines:
            found = re.match(r"alias\s+(\S+)//\s+(\S+)//", line)
            if found:
                names.setdefault(found[2], []).append(found[1])
    return names


def main():
    names = aliases()
    out = ["// Made by encodings.py.\n"]
    rows = []
    for index, name in enumerate(ENCODINGS):
        if not Converter("UTF-8", name).known:
            raise SystemExit(f"this machine does not know {name}")
        characters = decoded(name)
        runs = []
        for code in sorted(characters):
            if runs and runs[-1][0] + runs[-1][1] == code:
                runs[-1][1] += 1
            else:
                runs.append([code, 1])
        values = ",".join(str(characters[code]) for code in sorted(characters))
        odd = exceptions(name, characters)
        out.append(f"constexpr Run runs_{index}[] = {{{','.join('{%d,%d}' % tuple(r) for r in runs)}}};\n")
        out.append(f"constexpr std::uint16_t characters_{index}[] = {{{values}}};\n")
        out.append(f"constexpr Exception exceptions_{index}[] = {{"
                   f"{''.join('{%d,%d},' % pair for pair in sorted(odd.items()))}{{0,0}}}};\n")
        known = " ".join([""] + [name] + names.get(name, []) + [""])
        rows.append(f'    {{"{known}", runs_{index}, characters_{index}, exceptions_{index}}},\n')
    out.append("constexpr Encoding kTables[] = {\n" + "".join(rows) + "};\n")
    open(sys.argv[1], "w", encoding="ascii").write("".join(out))


main()
