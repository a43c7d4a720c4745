"""The lathe drawn on paper: views of its solids, the section through its spindle, and the sheets they stand on."""
