"""The independent player: a policy's facts, played case by case, and the shortest paths of the hazard."""
