// Package diagnose judges a compression test: what was done, read, written down
// and concluded. It sees what the student could see — the record of the bench
// and the job sheet — and never the engine behind them.
//
// The way through it is short. [Grade] takes an [Input], gathers the evidence
// out of the record ([Gather]), reads the pattern the gauge showed ([Judge]),
// lets every rule of the trade have its say and adds the points up in five rows.
// Results carry keys and numbers only; sentences belong to whoever shows them.
//
// Units inside are SI: pressures are gauge pressures in Pa, temperatures °C,
// volumes ml, speeds rpm. Times are ticks of 1/1200 s of cranking.
package diagnose
