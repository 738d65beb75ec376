#pragma once

#include <string>

/// Small pieces of SVG 1.1 pictures.
namespace whichlink::render {

/// Text as XML takes it between tags and in quotes.
[[nodiscard]] std::string escaped(const std::string& text);
/// A step of 1, 2 or 5 times a power of ten that gives at most eight ticks up to `largest` >= 1.
[[nodiscard]] double tick_step(double largest);
/// The opening tag, a white ground, and a title with a line under it.
[[nodiscard]] std::string svg_start(double width, double height, const std::string& title,
                                    const std::string& subtitle);

}  // namespace whichlink::render
