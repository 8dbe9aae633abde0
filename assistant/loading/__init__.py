"""The impure side of the rooms: reads rule files and builds what the pure rooms work with."""
