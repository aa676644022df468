"""Writes third-opinion.csv: `pip install coolprop==8.0.0`, then `python third-opinion.py > third-opinion.csv`."""

import CoolProp
from CoolProp.CoolProp import AbstractState

NAMES = {"Ar": "Argon", "CO2": "CarbonDioxide", "He": "Helium", "N2": "Nitrogen", "O2": "Oxygen", "H2": "Hydrogen"}
GASES = [
    {"Ar": 1}, {"CO2": 1}, {"He": 1}, {"N2": 1}, {"O2": 1}, {"H2": 1},
    {"Ar": 0.75, "CO2": 0.25}, {"Ar": 0.82, "CO2": 0.18}, {"Ar": 0.92, "CO2": 0.08},
    {"Ar": 0.98, "O2": 0.02}, {"N2": 0.9, "H2": 0.1}, {"Ar": 0.97, "N2": 0.03},
]

print("# Third opinion: CoolProp 8.0 (open-source library, backend HEOS), reference multiparameter equations for the pure gases:")
print("# Ar Tegeler 1999, CO2 Span & Wagner 1996, N2 Span 2000, O2 Schmidt & Wagner 1985, He and H2 as in CoolProp 8.0;")
print("# mixtures by its multi-fluid model. Another equation than GERG-2008. Absolute pressure, gas phase.")
print("composition,T_K,P_kPa,density_mol_per_L,cp_J_per_mol_K,cv_J_per_mol_K,speed_of_sound_m_s,JT_K_per_kPa")
for gas in GASES:
    state = AbstractState("HEOS", "&".join(NAMES[symbol] for symbol in gas))
    if len(gas) > 1:
        state.set_mole_fractions(list(gas.values()))
    for T in (258.15, 288.15, 313.15):
        for kpa in (101.325, 2000, 5000, 10000, 20000, 30000):
            if gas.get("CO2") == 1 and T < 304.2 and kpa > 1900:
                continue  # liquid
            if len(gas) > 1:
                state.specify_phase(CoolProp.iphase_gas)
            state.update(CoolProp.PT_INPUTS, kpa * 1e3, T)
            throttling = state.first_partial_deriv(CoolProp.iT, CoolProp.iP, CoolProp.iHmolar) * 1e3
            values = (state.rhomolar() / 1e3, state.cpmolar(), state.cvmolar(), state.speed_sound(), throttling)
            name = " ".join(f"{symbol}={fraction}" for symbol, fraction in gas.items())
            print(name, T, kpa, *(f"{value:.8g}" for value in values), sep=",")
