bayleaf.words("ol",{"old":"2:7;3:5,k"});
