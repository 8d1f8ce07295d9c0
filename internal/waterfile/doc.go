// Package waterfile reads a table of waters and writes it back with what their chemistry says.
//
// The table is CSV with a header, its columns in any order, cells parted by commas (or by
// semicolons, numbers then with a decimal comma if you like). Columns that it does not know are
// kept as they are.
//
// A water has temp_c; ca_mg_l mg_mg_l na_mg_l k_mg_l cl_mg_l so4_mg_l, and where there is any
// no3_mg_l and no2_mg_l (as the ions), tan_mg_l (as N), po4_mg_l (as PO4), doc_mg_l (as C); and
// alk_mg_l_caco3. One litre counts as one kilogram. Then its carbon, by regime:
//
//   - given_ph: ph_in
//   - open: log_pco2_in, log10 of the CO2 pressure in atm
//   - closed_mix: ph_in, a second water in the same columns with b_ before them, b_ph_in, and frac_a,
//     the share of the first
//
// Without the column regime, the one that is filled in says which. The columns written behind are
// those of [Outputs]: mol/kg, log10 and uS/cm.
package waterfile
