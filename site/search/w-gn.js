bayleaf.words("gn",{"gn":"2:k"});
