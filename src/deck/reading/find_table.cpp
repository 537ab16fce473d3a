#include "deck/reading/find_table.h"

#include <string>

namespace weighwright::deck::reading {

const Node* find_table(const Node& root, std::string_view key, FaultSink& sink) {
  const Node* const found = root.find(key);
  if (found == nullptr || found->type == Node::Type::table) return found;
  const bool is_list = found->type == Node::Type::list;
  sink.fault(of_key(*found), std::string(key) + " is no table",
             "write [" + std::string(key) + "]" +
                 (is_list ? " in single brackets" : " on a line of its own"));
  return nullptr;
}

std::vector<const Node*> find_list_of_tables(const Node& root,
                                             std::string_view key,
                                             FaultSink& sink) {
  std::vector<const Node*> tables;
  const Node* const found = root.find(key);
  if (found == nullptr) return tables;
  bool sound = found->type == Node::Type::list;
  for (const Node& item : found->children) sound = sound && item.type == Node::Type::table;
  if (!sound) {
    sink.fault(of_key(*found), std::string(key) + " is no list of tables",
               "write [[" + std::string(key) + "]] in double brackets, once for each");
    return tables;
  }
  for (const Node& item : found->children) tables.push_back(&item);
  return tables;
}

}  // namespace weighwright::deck::reading
