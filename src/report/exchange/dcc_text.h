#pragma once
/// Texts and figures as the schema of the Digital Calibration Certificate wants them.

#include <optional>
#include <pugixml.hpp>
#include <string>

namespace weighwright::report {

/// Drawable text (report/drawable.h) in one line, without blanks at its ends.
[[nodiscard]] std::string clean(const std::string& text);

/// Rounded to a millionth of the unit, no trailing zeros, no exponent.
[[nodiscard]] std::string plain(double value);

/// `<name><dcc:content lang="en">text</dcc:content></name>`
pugi::xml_node add_text(pugi::xml_node parent,
                        const char* name,
                        const std::string& text,
                        const std::string& language);
/// `<name>text</name>`
pugi::xml_node add_plain(pugi::xml_node parent, const char* name, const std::string& text);

/// Whether it is a day of the form 2026-11-25 (xs:date).
[[nodiscard]] bool is_date(const std::string& text);

}  // namespace weighwright::report
