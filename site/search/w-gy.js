bayleaf.words("gy",{"gy":"2:k"});
