"""An invented studio's morning, played through the real doors; everything in it is made up."""
