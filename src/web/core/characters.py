"""Writes the table of characters of utf8proc without what nothing here asks it for: of each one its
category and width are left, so that a few rows and many equal blocks remain.

Use: python3 characters.py UTF8PROC_DATA_C FILE
"""
import re
import sys

BLOCK = 256  # characters that one number of the first stage stands for


def main():
    data = open(sys.argv[1], encoding="ascii").read()

    def between(name):
        return re.search(name + r"\[\] = \{(.*?)\};", data, re.S)[1]

    def numbers(name):
        return [int(number) for number in re.findall(r"\d+", between(name))]

    # UTF8PROC_CATEGORY_…, fifteen fields of other things, the width, two more.
    fields = [row.split(",") for row in re.findall(r"\{([^{}]*)\}", between("utf8proc_properties"))]
    if {len(row) for row in fields} != {17}:
        raise SystemExit("the table of utf8proc has other columns than are known here")
    kept = [(row[0].strip(), row[14].strip()) for row in fields]
    rows = list(dict.fromkeys(kept))
    second = numbers("utf8proc_stage2table")
    blocks = {}
    first = []
    for start in numbers("utf8proc_stage1table"):
        block = tuple(rows.index(kept[row]) for row in second[start:start + BLOCK])
        first.append(blocks.setdefault(block, len(blocks)) * BLOCK)
    table = "const utf8proc_property_t utf8proc_properties[]"
    lines = ["/* Made by characters.py. */"]
    for name, values in (("sequences", [0]), ("stage1table", first),
                         ("stage2table", [row for block in blocks for row in block]),
                         ("combinations", [0])):
        lines.append(f"static const utf8proc_uint16_t utf8proc_{name}[] = "
                     f"{{{','.join(map(str, values))}}};")
    lines.append(f"static {table} = {{")
    lines += [f"  {{.category = {category}, .charwidth = {width}}}," for category, width in rows]
    lines.append("};\n")
    open(sys.argv[2], "w", encoding="ascii").write("\n".join(lines))


main()
