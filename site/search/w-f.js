bayleaf.words("f",{"f":"0:k"});
