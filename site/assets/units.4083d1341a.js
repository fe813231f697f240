window.bayleafUnits = [
["N·m", 1, "nm newtonmetre newtonmetres newtonmeter newtonmeters"],
["N·cm", 0.01, "ncm newtoncentimetre newtoncentimetres newtoncentimeter newtoncentimeters"],
["mN·m", 0.001, "mnm"],
["kN·m", 1000, "knm"],
["kgf·m", 9.80665, "kgfm kgm mkg mkgf kpm mkp kilogrammetre kilogrammetres kilogrammeter kilogrammeters"],
["kgf·cm", 0.0980665, "kgfcm kgcm cmkg kpcm"],
["lb·ft", 1.3558179483314, "lbft ftlb lbsft ftlbs lbfft ftlbf lbfoot footlb footlbs footlbf ft# #ft poundfoot poundsfoot poundfeet poundsfeet footpound footpounds feetpounds footpoundforce poundforcefoot poundforcefeet pilb lbpi pilbf lbfpi"],
["lb·in", 0.112984829027617, "lbin inlb lbsin inlbs lbfin inlbf inchlb inchlbs in# #in poundinch poundsinch poundinches inchpound inchpounds inchpoundforce poundforceinch polb lbpo"],
["ozf·in", 0.007061551814226, "ozfin ozin inoz inozf ounceinch ounceinches inchounce inchounces"]
];
