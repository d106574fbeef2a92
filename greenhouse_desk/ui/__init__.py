"""Qt: the main window and one package a screen; screens never import each other."""
