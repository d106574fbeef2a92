"""Qt-free verbs and questions, one module for each thing a grower does."""
