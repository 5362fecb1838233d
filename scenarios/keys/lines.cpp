#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view trade = "common practice";
constexpr std::string_view string = "a string laid along the pipe";
constexpr std::string_view rule = "rule from the ground, vehicle level";

constexpr KeyRow rows[] = {
    {"lines.bore", quantity, "mm", "4 mm, 3 mm to 5 mm", "0.05 mm to 50 mm", common_practice, trade,
     "inside diameter of rigid pipe", "drill shank that just enters an offcut", "", "clutch"},
    {"lines.bore", quantity, "mm", "3.34 mm, 2.95 mm to 3.6 mm", "0.05 mm to 50 mm", secondary,
     "SAE J526 table: 3/16 in tube, wall 0.028 in", "inside diameter of rigid pipe",
     "drill shank that just enters an offcut", "", ""},
    {"lines.dilation", quantity, "1/GPa", "0.032 1/GPa", "0 1/GPa to 1000 1/GPa", derived,
     "thick-walled steel tube", "relative growth of a rigid pipe's volume with pressure", "", "", ""},
    {"lines.lengths_include_hose", truth, "", "true", "", common_practice, "ours",
     "whether lengths to a wheel include its hose", "", "", ""},
    {"lines.front.to_tee", quantity, "m", "0.5 m, 0.2 m to 1.2 m", "0 m to 200 m", common_practice, trade,
     "front/rear: cylinder to front tee, along the pipe; 0: the tee is on the cylinder", string, "", ""},
    {"lines.front.LF", quantity, "m", "0.9 m, 0.5 m to 1.5 m", "0.01 m to 200 m", common_practice, trade,
     "front tee to the left front wheel, along the pipe, hose included", string, "", ""},
    {"lines.front.RF", quantity, "m", "1.7 m, 1 m to 2.2 m", "0.01 m to 200 m", common_practice, trade,
     "front tee to the right front wheel, along the pipe, hose included", string, "", ""},
    {"lines.rear.to_tee", quantity, "m", "3.2 m, 2.5 m to 4.2 m", "0 m to 200 m", common_practice, trade,
     "front/rear: cylinder to rear tee, along the pipe", string, "", ""},
    {"lines.rear.LR", quantity, "m", "0.7 m, 0.2 m to 1.2 m", "0.01 m to 200 m", common_practice, trade,
     "rear tee to the left rear wheel, along the pipe, hose included", string, "", ""},
    {"lines.rear.RR", quantity, "m", "1.5 m, 0.8 m to 2 m", "0.01 m to 200 m", common_practice, trade,
     "rear tee to the right rear wheel, along the pipe, hose included", string, "", ""},
    {"lines.rear.hose_at", choice, "", "wheels", "wheels | tee", common_practice, trade,
     "a hose at each wheel, or one before the rear tee (live axle)", "look", "", ""},
    {"lines.to_splitter", quantity, "m", "0.55 m, 0.3 m to 0.9 m", "0.01 m to 200 m", common_practice, trade,
     "two front discs: lever to the splitter, along the hose", string, "", "motorcycle"},
    {"lines.LF", quantity, "m", "0.45 m, 0.3 m to 0.7 m", "0.01 m to 200 m", common_practice, trade,
     "two front discs: splitter to the left front caliper", string, "", "motorcycle"},
    {"lines.RF", quantity, "m", "0.5 m, 0.3 m to 0.7 m", "0.01 m to 200 m", common_practice, trade,
     "two front discs: splitter to the right front caliper", string, "", "motorcycle"},
    {"lines.F", quantity, "m", "1 m, 0.7 m to 1.3 m", "0.01 m to 200 m", common_practice, trade,
     "one front disc: lever to the front caliper", string, "", "motorcycle"},
    {"lines.R", quantity, "m", "0.6 m, 0.3 m to 1 m", "0.01 m to 200 m", common_practice, trade,
     "rear cylinder to the rear caliper", string, "", "motorcycle"},
    {"lines.to_slave", quantity, "m", "1.4 m, 0.8 m to 2.5 m", "0.01 m to 200 m", common_practice, trade,
     "clutch: cylinder to slave, along the pipe, hose included", string, "", "clutch"},
    {"lines.LF", quantity, "m", "0.9 m, 0.5 m to 1.5 m", "0.01 m to 200 m", common_practice, trade,
     "diagonal: cylinder to the left front wheel, along the pipe, hose included", string, "", ""},
    {"lines.RF", quantity, "m", "1.7 m, 1 m to 2.2 m", "0.01 m to 200 m", common_practice, trade,
     "diagonal: cylinder to the right front wheel, along the pipe, hose included", string, "", ""},
    {"lines.LR", quantity, "m", "4.1 m, 3.3 m to 5 m", "0.01 m to 200 m", common_practice, trade,
     "diagonal: cylinder to the left rear wheel, along the pipe, hose included", string, "", ""},
    {"lines.RR", quantity, "m", "4.6 m, 3.6 m to 5.5 m", "0.01 m to 200 m", common_practice, trade,
     "diagonal: cylinder to the right rear wheel, along the pipe, hose included", string, "", ""},
    {"lines.to_slave", quantity, "m", "1.4 m, 0.8 m to 2.5 m", "0.01 m to 200 m", common_practice, trade,
     "clutch: cylinder to slave, along the pipe, hose included", string, "", ""},

    {"hoses.front", quantity, "m", "0.38 m, 0.3 m to 0.6 m", "0.01 m to 20 m", common_practice, trade,
     "length of a front hose", "rule, hose straight", "", ""},
    {"hoses.rear", quantity, "m", "0.3 m, 0.2 m to 0.45 m", "0.01 m to 20 m", common_practice, trade,
     "length of a rear hose", "rule, hose straight", "", ""},
    {"hoses.slave", quantity, "m", "0.35 m, 0.2 m to 0.6 m", "0.01 m to 20 m", common_practice, trade,
     "clutch: length of the hose at the slave", "rule, hose straight", "", ""},
    {"hoses.bore", quantity, "mm", "3.2 mm, 3 mm to 4.8 mm", "0.05 mm to 50 mm", common_practice, trade,
     "inside diameter of hoses", "printed on the hose", "", ""},
    {"hoses.expansion", quantity, "1", "0.175, 0.1 to 0.25", "0.001 to 3", common_practice,
     "braided PTFE in service, share of the maximum of 49 CFR 571.106",
     "swelling as a share of the legal maximum for its bore", "", "", "motorcycle"},
    {"hoses.expansion", quantity, "1", "0.45, 0.3 to 0.6", "0.001 to 3", common_practice,
     "rubber in service, share of the maximum of 49 CFR 571.106",
     "swelling as a share of the legal maximum for its bore; braided PTFE about 0.175", "", "", ""},
    {"hoses.low_expansion", truth, "", "false", "", common_practice, trade,
     "sold and marked as low expansion", "printed on the hose", "", ""},

    {"heights.floor_pipe", quantity, "m", "0.25 m, 0.18 m to 0.35 m", "-5 m to 20 m", common_practice, trade,
     "of the pipe along the floor above ground", rule, "", ""},
    {"heights.front_tee", quantity, "m", "0.5 m, 0.35 m to 0.65 m", "-5 m to 20 m", common_practice, trade,
     "of the front tee", rule, "", ""},
    {"heights.rear_tee", quantity, "m", "0.4 m, 0.3 m to 0.5 m", "-5 m to 20 m", common_practice, trade,
     "of the rear tee", rule, "", ""},
    {"heights.front_hose_top", quantity, "m", "0.48 m, 0.4 m to 0.6 m", "-5 m to 20 m", common_practice,
     trade, "where a front hose meets its pipe", rule, "", ""},
    {"heights.rear_hose_top", quantity, "m", "0.4 m, 0.3 m to 0.5 m", "-5 m to 20 m", common_practice, trade,
     "where a rear hose meets its pipe", rule, "", ""},
    {"heights.front_wheels", quantity, "m", "0.32 m, 0.27 m to 0.37 m", "-5 m to 20 m", common_practice,
     trade, "of the front calipers or wheel cylinders", rule, "", ""},
    {"heights.rear_wheels", quantity, "m", "0.31 m, 0.27 m to 0.37 m", "-5 m to 20 m", common_practice, trade,
     "of the rear calipers or wheel cylinders", rule, "", ""},
    {"heights.hose_top", quantity, "m", "0.45 m, 0.3 m to 0.6 m", "-5 m to 20 m", common_practice, trade,
     "clutch: where the hose meets its pipe", rule, "", ""},
    {"heights.splitter", quantity, "m", "0.75 m, 0.6 m to 0.85 m", "-5 m to 20 m", common_practice, trade,
     "motorcycle: of the splitter", rule, "", ""},
    {"heights.slave", quantity, "m", "0.35 m, 0.25 m to 0.5 m", "-5 m to 20 m", common_practice, trade,
     "clutch: of the slave", rule, "", ""},

    {"vehicle.wheelbase", quantity, "m", "1.4 m, 1.3 m to 1.55 m", "0.1 m to 50 m", common_practice, trade,
     "axle to axle", rule, "", "motorcycle"},
    {"vehicle.wheelbase", quantity, "m", "2.5 m, 2.2 m to 2.9 m", "0.1 m to 50 m", common_practice, trade,
     "axle to axle; matters when the vehicle is pitched", "rule", "", ""},
    {"vehicle.track", quantity, "m", "0.2 m", "0.01 m to 20 m", common_practice, trade, "caliper to caliper",
     "rule", "", "motorcycle"},
    {"vehicle.track", quantity, "m", "1.4 m, 1.25 m to 1.6 m", "0.01 m to 20 m", common_practice, trade,
     "wheel to wheel; matters when the vehicle is rolled", "rule", "", ""},
};

} // namespace

std::span<const KeyRow> line_keys() { return rows; }

} // namespace clearstroke
