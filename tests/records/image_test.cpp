// Pictures in the record: what is taken for one, and what is not. Base64 rows: RFC 4648, section 10.
#include "records/image.h"

#include "records/a_store.h"
#include "records/check.h"

namespace barm::records {
namespace {

using namespace std::string_view_literals;

TEST(Base64, writes_and_reads_the_rows_of_its_standard) {
  const std::pair<std::string_view, std::string> rows[] = {{"", ""},
                                                           {"f", "Zg=="},
                                                           {"fo", "Zm8="},
                                                           {"foo", "Zm9v"},
                                                           {"foob", "Zm9vYg=="},
                                                           {"fooba", "Zm9vYmE="},
                                                           {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : rows) {
    EXPECT_EQ(base64_of(bytes), text);
    EXPECT_EQ(bytes_of(text), bytes);
  }
}

TEST(Base64, has_one_form_only) {
  for (const char* text : {"Zg", "Zg=", "Zg==\n", "Z g==", "Zh==", "Zm9v=", "Zm-v", "=", "data:image/png;base64,Zm9v"})
    EXPECT_FALSE(bytes_of(text)) << text;
}

TEST(APicture, is_told_by_its_first_bytes) {
  EXPECT_EQ(image_type(a_picture), "image/jpeg");
  EXPECT_EQ(image_type("\x89PNG\r\n\x1A\n...."sv), "image/png");
  EXPECT_EQ(image_type("RIFF\x24\0\0\0WEBPVP8 "sv), "image/webp");
  for (const auto bytes : {""sv, "<svg onload=alert(1)>"sv, "<!doctype html>"sv, "GIF89a"sv, "RIFF\x24\0\0\0WAVE"sv,
                           "\xFF\xD8"sv, "\x89PNG"sv, "RIFF"sv, " \xFF\xD8\xFF"sv})
    EXPECT_EQ(image_type(bytes), "") << bytes;
}

Remarks faults_with(const std::string& image) {
  return faults_of(*all_kinds().find("photo"),
                   entry("photo", {{"brew", new_id()}, {"at", may_2026}, {"image", image}}));
}

TEST(APhoto, is_kept_up_to_its_size_and_only_as_a_picture) {
  std::string bytes(image_bytes_most, '\0');
  bytes.replace(0, a_picture.size(), a_picture);
  EXPECT_TRUE(faults_with(base64_of(bytes)).empty());
  EXPECT_TRUE(has(faults_with(base64_of(bytes + "123")), "records.value.image_too_large", "image"));
  EXPECT_TRUE(has(faults_with(base64_of("<svg onload=alert(1)>")), "records.value.not_an_image", "image"));
  EXPECT_TRUE(has(faults_with("not base64"), "records.value.not_an_image", "image"));
  EXPECT_TRUE(has(faults_with(""), "records.value.not_an_image", "image"));
}

}  // namespace
}  // namespace barm::records
