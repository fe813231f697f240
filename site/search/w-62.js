bayleaf.words("62",{"62":"0:n;3:b"});
