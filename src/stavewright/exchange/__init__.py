"""MusicXML in and out: music as other notation programs read and write it."""
