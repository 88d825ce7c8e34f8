"""One job of the user a file: from a request to a result; prints nothing, asks nothing."""
