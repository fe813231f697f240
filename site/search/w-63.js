bayleaf.words("63",{"63":"2:d"});
