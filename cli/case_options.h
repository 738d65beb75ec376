#pragma once

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>
#include <string>

#include "guide/case.h"
#include "record_options.h"

namespace whichlink::cli {

/// The options that say what a case is about; shared by isolate, rank and tables.
struct CaseOptions {
  std::string model;
  std::string route;
  std::string heard;
  std::string listener;
  std::optional<double> days;  ///< since the route last passed a check
  std::string evidence;
  std::string aim;
  std::optional<double> think;  ///< of isolate and rank
  RecordOptions record;         ///< of rank and tables: whose rates count
  bool json = false;
};

void add_case_options(CLI::App& app, CaseOptions& options);

/// A number in plain decimals, with or without a sign; nothing if the text is anything else.
[[nodiscard]] std::optional<double> number_in(const std::string& text);

/// `--since-pass DAYS`: from 0 to 36,500.
void add_days_option(CLI::App& app, std::optional<double>& days, const std::string& help);

/// `--think SECONDS`: how long to search ahead at each step.
void add_think_option(CLI::App& app, std::optional<double>& seconds);
[[nodiscard]] plan::Depth depth_of(const std::optional<double>& seconds);

/// "weak by 25 dB", "25 dB", "-25": a drop; anything else is a symptom's name.
[[nodiscard]] guide::Report report_from(const std::string& text);

/// The events that the options and the evidence file tell; options win over the file.
[[nodiscard]] guide::CaseFile events_from(const CaseOptions& options);
/// The same with these events in place of the file's.
[[nodiscard]] guide::CaseFile events_from(const CaseOptions& options, guide::CaseFile events);

}  // namespace whichlink::cli
