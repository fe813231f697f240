bayleaf.words("bn",{"bn":"2:k"});
