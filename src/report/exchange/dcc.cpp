#include <pugixml.hpp>
#include <sstream>

#include "report/exchange/dcc_administration.h"
#include "report/exchange/dcc_results.h"
#include "report/exchange/exchange.h"

namespace weighwright::report {

Certificate print_dcc(const DocumentView& view) {
  Certificate certificate;
  certificate.missing = missing_administration(view);
  for (std::string& fault : result_faults(view)) certificate.missing.push_back(std::move(fault));
  if (!certificate.missing.empty()) return certificate;
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version").set_value("1.0");
  declaration.append_attribute("encoding").set_value("UTF-8");
  pugi::xml_node root = document.append_child("dcc:digitalCalibrationCertificate");
  root.append_attribute("xmlns:dcc").set_value("https://ptb.de/dcc");
  root.append_attribute("xmlns:si").set_value("https://ptb.de/si");
  root.append_attribute("schemaVersion").set_value("3.1.2");
  add_administration(root, view);
  add_results(root, view);
  std::ostringstream text;
  document.save(text, "  ", pugi::format_indent, pugi::encoding_utf8);
  certificate.xml = text.str();
  return certificate;
}

}  // namespace weighwright::report
