"""How warm and how dry is the building, what stove and how much wood, and where would damp sit?"""
