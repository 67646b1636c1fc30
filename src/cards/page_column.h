// A column of a page: pieces laid down from its top, one under the other.
#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "cards/brew_card_pdf.h"
#include "cards/ink.h"
#include "cards/page_layout.h"

namespace barm::cards {

/// Without a place to keep boxes a column only measures.
class Column {
 public:
  Column(const Sheet& sheet, const Rect& where, const Fit& fit, std::vector<Box>* boxes)
      : sheet_(&sheet), where_(where), fit_(&fit), boxes_(boxes), y_(where.y) {}

  const Sheet& sheet() const { return *sheet_; }
  const Fit& fit() const { return *fit_; }
  bool writes() const { return boxes_ != nullptr; }
  double x() const { return where_.x; }
  double width() const { return where_.width; }
  double y() const { return y_; }
  double used() const { return y_ - where_.y; }
  void skip(double height) { y_ += height; }
  Type type(double scale = 1.0) const { return {.size = fit_->body_size * scale, .lines = fit_->lines}; }

  // Text at an offset from the column's left, in a width, at the present height; gives its height.
  double at(double offset, double width, const char* piece, const std::string& text, const Type& type,
            Side side = Side::left) {
    if (text.empty()) return 0.0;
    if (!writes()) return sheet_->measure(text, type, width).height;
    const Extent size = sheet_->write(where_.x + offset, y_, text, type, width, side);
    const double slack = std::max(0.0, width - size.width);
    const double shift = side == Side::right ? slack : side == Side::centre ? slack / 2.0 : 0.0;
    boxes_->push_back({piece, {where_.x + offset + shift, y_, size.width, size.height}});
    return size.height;
  }
  void paragraph(const char* piece, const std::string& text, const Type& type, double offset = 0.0) {
    y_ += at(offset, width() - offset, piece, text, type);
  }
  void title(const std::string& text) {
    if (writes()) sheet_->line(x(), y_, x() + width(), y_, {0.6, palette::quiet});
    y_ += fit_->body_size * 0.3;
    Type bold = type(1.05);
    bold.bold = true;
    paragraph("title", text, bold);
    y_ += fit_->body_size * 0.22;
  }
  void gap(double lines = 1.0) { y_ += fit_->body_size * lines; }
  // A square to tick with a pencil; no text.
  void tick_box() const {
    if (!writes()) return;
    const double side = fit_->body_size * 0.72;
    const double top = y_ + fit_->body_size * 0.24;
    for (const auto& [x1, y1, x2, y2] :
         std::array<std::array<double, 4>, 4>{{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}}})
      sheet_->line(x() + x1 * side, top + y1 * side, x() + x2 * side, top + y2 * side, {0.6, palette::quiet});
  }

 private:
  const Sheet* sheet_;
  Rect where_;
  const Fit* fit_;
  std::vector<Box>* boxes_;
  double y_;
};

/// Two columns side by side from one height; gives how far down the longer one reaches.
template <class Left, class Right>
double beside(const Sheet& sheet, const Rect& where, double share, const Fit& fit, std::vector<Box>* boxes, Left&& left,
              Right&& right) {
  constexpr double gutter = 16.0;
  const double width = share * (where.width - gutter);
  Column first(sheet, {where.x, where.y, width, 0.0}, fit, boxes);
  Column second(sheet, {where.x + width + gutter, where.y, where.width - gutter - width, 0.0}, fit, boxes);
  left(first);
  right(second);
  return std::max(first.used(), second.used());
}

}  // namespace barm::cards
