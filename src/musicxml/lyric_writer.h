// Writes the fingering under or over a note, and its song text.
#pragma once

#include <string>

#include "model/score.h"
#include "musicxml/writer_context.h"

namespace yubifu::musicxml {

/// The text of a tone: its fingering as printed, `?`, spelling and bend for a gap, nothing for a
/// tone without a fingering.
std::string annotation_text(const model::Tone& tone);

/// The `<lyric>` elements of a note: the fingering first, if it is written as one, then the
/// syllables of note `index`.
void write_lyrics(const WriterContext& context, std::size_t index, const std::string& fingering);

/// The fingering of a grace note, if it is written as a lyric.
void write_fingering_lyric(const WriterContext& context, const std::string& fingering);

/// A `<direction>` with the fingering, if it is written as words.
void write_fingering_words(const WriterContext& context, const std::string& fingering);

}  // namespace yubifu::musicxml
