"""Music theory as pure values: pitch, interval, key, scale, chord, cadence, metre, rests, instruments, voices."""
