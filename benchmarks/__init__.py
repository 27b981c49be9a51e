"""Measurements, printed as ratios within one run; `make bench` runs them all and writes docs/performance.md."""
