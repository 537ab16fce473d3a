#pragma once
/// Who writes into a journal, and when: the machine's device number, the author, the clock.

#include <string>

#include "job/job_case.h"

namespace weighwright::cli {

/// The device number is random, made at first use and kept in $XDG_DATA_HOME/weighwright/device (or
/// ~/.local/share): outside every journal, so that a copied journal does not carry it along.
/// WEIGHWRIGHT_DEVICE (16 hex digits) stands in for it. The key that signs lies beside it
/// (own_key.h).
/// @param author  empty: WEIGHWRIGHT_AUTHOR, else the user's name
/// @throws std::runtime_error when the number can be neither read nor kept
[[nodiscard]] job::Writer writer_now(const std::string& author);

/// Where this machine keeps what is its own: $XDG_DATA_HOME/weighwright, or below ~/.local/share.
/// @throws std::runtime_error when there is no such place
[[nodiscard]] std::string data_folder();

}  // namespace weighwright::cli
