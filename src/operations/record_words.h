// What the record holds, in the reader's words: each field by its name, each choice by its word.
#pragma once

#include <string>

#include "operations/voice.h"
#include "records/store.h"

namespace barm::operations {

/// What a field is called in a line of an entry: "air on".
std::string field_word(const std::string& field, const Voice& voice);
/// One word of a choice: "drench".
std::string choice_word(const std::string& word, const Voice& voice);
/// A value in words, in the garden's measures.
std::string value_text(const records::Field& field, const records::Value& value, const std::string& zone,
                       const Voice& voice);
/// "bed: North bed", and behind what stands before it, with "; " between.
void append_said(std::string& text, const std::string& field, const std::string& value, const Voice& voice);

}  // namespace barm::operations
