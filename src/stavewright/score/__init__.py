"""Notated music as pure data: staves, bars, notes and rests, with checks that bars add up."""
