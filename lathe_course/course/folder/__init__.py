"""The learner's working folder, and JupyterLab opened on it."""

#: what a working folder is called where nobody names it
WORKING_FOLDER = "my-lathe"
