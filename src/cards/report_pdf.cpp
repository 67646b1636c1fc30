#include "cards/report_pdf.h"

#include <cairo-pdf.h>

#include <algorithm>

#include "cards/columns.h"
#include "cards/ink.h"
#include "cards/local_time.h"
#include "cards/picture.h"
#include "quantity/expects.h"

namespace barm::cards {
namespace {

constexpr Rect a4{0.0, 0.0, 595.276, 841.890};  // ISO 216, 210 x 297 mm [pt]
constexpr Rect letter{0.0, 0.0, 612.0, 792.0};  // ANSI A, 8.5 x 11 in [pt]
constexpr double margin = 42.0, lead_width = 96.0, between = 4.0;
constexpr Extent picture_room{170.0, 128.0};  // 60 x 45 mm
constexpr Type body{.size = 9.4};

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  auto* to = static_cast<std::vector<std::uint8_t>*>(bytes);
  to->insert(to->end(), data, data + length);
  return CAIRO_STATUS_SUCCESS;
}

/// A text cut so that no part is taller than a page: at words, as many as fit.
std::vector<std::string> parts_of(const std::string& text) {
  constexpr int columns_most = 2400;  // about half a page at this size
  return columns_of(text) <= columns_most ? std::vector<std::string>{text} : wrap(text, columns_most);
}

class Pages {
 public:
  Pages(const Sheet& sheet, const Rect& page, const std::string& foot)
      : sheet_(&sheet), page_(page), foot_(foot), y_(margin) {
    write_foot();
  }
  double width() const { return page_.width - 2.0 * margin; }
  /// Goes on to the next page unless this much fits.
  void need(double height) {
    if (y_ + height <= page_.height - margin - 16.0 || y_ <= margin) return;
    cairo_show_page(sheet_->cairo());
    ++number_;
    y_ = margin;
    write_foot();
  }
  double height(const std::string& text, const Type& type, double indent = 0.0) const {
    return text.empty() ? 0.0 : sheet_->measure(text, type, width() - indent).height;
  }
  void write(const std::string& text, const Type& type, double indent = 0.0) {
    if (text.empty()) return;
    y_ += sheet_->write(margin + indent, y_, text, type, width() - indent).height;
  }
  void beside(const std::string& lead, const Type& type) {
    if (!lead.empty()) sheet_->write(margin, y_, lead, type, lead_width - 8.0);
  }
  void show(const Picture& picture, double indent) {
    const Extent size = picture.fitted(picture_room);
    picture.draw(*sheet_, {margin + indent, y_ + between, size.width, size.height});
    y_ += between + size.height;
  }
  void bar(double height) const { sheet_->line(margin - 8.0, y_, margin - 8.0, y_ + height, {2.2, palette::unfit}); }
  void rule() {
    sheet_->line(margin, y_, page_.width - margin, y_, {0.6, palette::quiet});
    y_ += between;
  }
  void gap(double height) { y_ += height; }
  double lead_height(const std::string& lead, const Type& type) const {
    return lead.empty() ? 0.0 : sheet_->measure(lead, type, lead_width - 8.0).height;
  }
  double y() const { return y_; }
  void at_least(double y) { y_ = std::max(y_, y); }

 private:
  void write_foot() {
    const double y = page_.height - margin;
    const Type small = quiet_of({.size = 7.6});
    sheet_->write(margin, y, foot_, small, width() - 40.0);
    sheet_->write(page_.width - margin, y, std::to_string(number_), small, 0.0, Side::right);
  }
  const Sheet* sheet_;
  Rect page_;
  std::string foot_;
  double y_;
  int number_ = 1;
};

void write_row(Pages& pages, const ReportRow& row) {
  const Type text_type = row.warns ? bold_of(body) : body;
  const Type detail_type = quiet_of({.size = 8.6});
  const auto texts = parts_of(clean(row.text));
  const std::string detail = clean(row.detail), lead = clean(row.lead);
  const auto picture = Picture::read(row.picture);
  const double below =
      pages.height(detail, detail_type, lead_width) + (picture ? between + picture->fitted(picture_room).height : 0.0);
  bool is_first = true;
  for (const auto& text : texts) {
    const bool is_last = &text == &texts.back();
    const double tall =
        std::max(pages.height(text, text_type, lead_width), is_first ? pages.lead_height(lead, body) : 0.0) +
        (is_last ? below : 0.0);
    pages.need(tall + between);
    const double from = pages.y();
    if (row.warns) pages.bar(tall);
    if (is_first) pages.beside(lead, quiet_of(body));
    pages.write(text, text_type, lead_width);
    if (is_last) pages.write(detail, detail_type, lead_width);
    if (is_last && picture) pages.show(*picture, lead_width);
    if (is_first) pages.at_least(from + pages.lead_height(lead, body));
    is_first = false;
  }
  pages.gap(between);
}

}  // namespace

std::vector<std::uint8_t> report_pdf(const Report& report, Paper paper) {
  const Rect page = paper == Paper::letter ? letter : a4;
  std::vector<std::uint8_t> bytes;
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(append, &bytes, page.width, page.height);
  const std::string made_at = iso_text(report.made_at, "UTC");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, made_at.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "barm report");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, clean(report.title).c_str());
  {
    const Sheet sheet(surface);
    Pages pages(sheet, page, clean(report.foot));
    pages.write(clean(report.title), bold_of({.size = 16.0}));
    pages.gap(between);
    pages.write(clean(report.about), quiet_of(body));
    for (const auto& section : report.sections) {
      const Type title = bold_of({.size = 11.5});
      constexpr double room_for_a_row = 60.0;
      pages.need(pages.height(section.title, title) + pages.height(section.intro, body) + room_for_a_row);
      pages.gap(10.0);
      pages.rule();
      pages.write(clean(section.title), title);
      pages.gap(between);
      pages.write(clean(section.intro), quiet_of(body));
      if (!section.intro.empty()) pages.gap(between);
      for (const auto& row : section.rows) write_row(pages, row);
    }
    cairo_show_page(sheet.cairo());
  }
  cairo_surface_finish(surface);
  expects(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS, "the report was drawn");
  cairo_surface_destroy(surface);
  return bytes;
}

}  // namespace barm::cards
