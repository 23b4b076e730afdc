#!/bin/sh
# Validates MusicXML files against an official schema, without the network.
#
#   validate_musicxml.sh SCHEMA_FOLDER FILE...
#
# The folder holds musicxml.xsd with xlink.xsd and xml.xsd,
# which the schema imports by web address. Files that are valid are not named.
set -eu
schema=$(cd "$1" && pwd)
shift
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cat >"$work/catalog.xml" <<END
<?xml version="1.0"?>
<catalog xmlns="urn:oasis:names:tc:entity:xmlns:xml:catalog">
  <system systemId="http://www.musicxml.org/xsd/xml.xsd" uri="file://$schema/xml.xsd"/>
  <system systemId="http://www.musicxml.org/xsd/xlink.xsd" uri="file://$schema/xlink.xsd"/>
</catalog>
END

status=0
XML_CATALOG_FILES="$work/catalog.xml" \
  xmllint --nonet --noout --schema "$schema/musicxml.xsd" "$@" 2>"$work/messages" || status=$?
grep -v ' validates$' "$work/messages" >&2 || true
exit $status
