"""The lathe as solids in space, from decisions and results alone; nothing here draws."""
