"""The drawer: bits at hand as silhouettes, what each is good for, the form of a bit."""
