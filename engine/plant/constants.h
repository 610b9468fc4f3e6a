#pragma once
// Constants of the plant model that are the same for every machine. None has a source: they are
// plain curves that give the trade's numbers (tests/plant/wf_208_test.cpp holds them to those).

namespace legwork::plant {

inline constexpr double kFreezing = 273.15;
inline constexpr double kProductZeroK = 233.15;      // product enthalpy is 0 here
inline constexpr double kDesignCondensingK = 315.0;  // energy of the high side is reckoned here
inline constexpr double kDryAirJKgK = 1006;

inline constexpr double kReversedFan = 0.4;       // air a fan moves turning backwards
inline constexpr double kFanCurve = 3.0;          // conductance over air flow bends by this
inline constexpr double kEvaporatorInside = 0.2;  // share of its resistance inside the tubes
inline constexpr double kCondenserInside = 0.15;
inline constexpr double kRatedAirK = 305.4;  // air flow of a condenser is stated at 90 F
inline constexpr double kWetFins = 0.38;     // more air-side heat while wet
inline constexpr double kDryness = 0.12;     // dry share of a coil at half the superheat
inline constexpr double kCapBandPa = 3.0e4;  // a capped valve closes over this band
// What leaks back is compressed again; at a high ratio it gives more of its work back to the
// piston.
inline constexpr double kLeakHeats = 0.5, kLeakHeatsAtOne = 0.7;
inline constexpr double kStandingLeak = 7e-4;  // of any compressor's valves, standing
inline constexpr double kClings = 0.42;        // share of the sealing charge that stays behind
inline constexpr double kSlip = 3.0;           // gas over liquid speed in a line not full
inline constexpr double kShellStill = 0.35;    // of a shell's heat loss, standing
inline constexpr double kShellGlowsK = 380;    // half of its loss grows with the cube from there
inline constexpr double kOilDrawsK = 6.0;      // fresh oil draws refrigerant from so far above
inline constexpr double kChurned = 4.0;        // running, the shell boils so much more off its oil
inline constexpr double kDefrostToPan = 0.03;
// Liquid in the cylinders is noise and wear: a full slug asks for this much more torque, no more.
inline constexpr double kSlugTorque = 0.08;
// A side through which less than this share of valve_kg_s goes stands rather than flows.
inline constexpr double kStands = 0.02;
// Below half of the design flow liquid runs along the bottom of a tube whose top is dry: towards no
// flow at all the coil sends liquid on from so much less wetness.
inline constexpr double kStratified = 0.5;
inline constexpr double kWetLineS = 20.0;  // liquid in the suction line cools it within so long
// Head-pressure valve: it opens over this band, wide open it passes so many times the flow of all
// expansion valves, and liquid never stands in more than this share of the condenser.
inline constexpr double kHeadBandPa = 2.0e5, kHeadValve = 2.0, kMostFlooded = 0.95;
// pressure drops at a flow of valve_kg_s
inline constexpr double kDrierPa = 2.4e4, kReceiverValvePa = 6e3, kSolenoidPa = 1.2e4;

}  // namespace legwork::plant
