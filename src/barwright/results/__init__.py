"""What answers tell: which misreadings a class and its students show, and how well a quiz will tell them."""
